"""What MkDocs asks of us while it builds or serves: the pages, ready, and what a preview has beyond them."""

from __future__ import annotations

import gc
import logging
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, Literal
from urllib.parse import urlsplit

import watchdog.observers.polling
from jinja2 import Environment
from markupsafe import Markup
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page as MkDocsPage

from ...judging import Checked
from ...judging import check as run_checks
from ...reading.addresses import Address
from ...reading.catalogue import load
from ...reading.club_folder import SETTINGS
from ...reading.escaping import terminal
from ...reading.findings import Finding
from ...reading.public_address import warning
from ...reading.shipped import IN_CHECKOUT, THEME
from ...telling.tongues import Mark, ours
from ..assets import MISSING, assets, script, worker
from ..findings_pages import place
from ..kinds import IN_THE_THEME
from ..look import look_of
from ..manifest import manifests
from ..precache import OFF, Precached, lists, precached
from ..preview import LOG, Preview
from ..private import MARK
from ..redrawing import write_figures
from ..site import Page, Renderer, write
from ..stopping import heed
from ..templates import COMPILED, policy
from .settings import THEME_NAME

_POLL_SECONDS = 0.1
_DESCRIPTION = "Strength sessions to do at home, for the club's juniors."


class _ReadyPage(MkDocsPage):
    """A page whose content is finished HTML: no Markdown is read or run."""

    def __init__(self, page: Page, file: File, config: MkDocsConfig) -> None:
        super().__init__(page.title, file, config)
        self.ready = page.text
        names = ("description", "trail", "programme", "feed", "styles", "scripts")
        self.meta = {name: getattr(page, name) for name in names}

    def read_source(self, config: MkDocsConfig) -> None:
        """There is no source: the page is generated."""
        self.markdown = ""

    def render(self, config: MkDocsConfig, files: Files) -> None:
        """Take the content as it is."""
        self.content = self.ready


class _Settings(Config):  # type: ignore[no-untyped-call]
    """The plugin has no settings: all that can be said is in the tree."""


class PhasepressPlugin(BasePlugin[_Settings]):  # type: ignore[no-untyped-call]
    """Checks the tree of `docs_dir` and adds its pages to the build."""

    def __init__(self) -> None:
        """Nothing is checked yet; `checked` may be set to save checking twice."""
        self.checked: Checked | None = None
        self.progress: Callable[[int, int], None] = lambda done, of: None
        self._is_preview = False
        self._preview: Preview | None = None
        self._precached: tuple[Precached, ...] = ()
        self._mark: Mark = str
        self._ours = Markup("")
        """What says the languages of a page, for those in the theme's frame."""

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        """Note whether this is a preview, whose own reload script has to run."""
        self._is_preview = command == "serve"

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Check the tree, before anything of an earlier site is touched."""
        if self._is_preview:
            self._preview = self._preview or Preview(Path(config.docs_dir), _watched(config))
            self._preview.looks()
        self.checked = self.checked or run_checks(load(Path(config.docs_dir)))
        for finding in self.checked.findings:
            LOG.log(logging.ERROR if finding.severity == "error" else logging.INFO, _line(finding))
        errors = self.checked.count("error")
        if self._preview:
            self._preview.tells(self.checked, urlsplit(config.site_url or "/").path)
        if errors:
            # In a preview this object lives on: the next build checks the mended files.
            self.checked = None
            if self._preview and self._preview.told.alone:
                return _without_a_site(config)
            if self._preview:
                self._preview.write_findings(Path(config.site_dir))
            raise PluginError(f"{errors} error{'' if errors == 1 else 's'}; the site was not built")
        club = self.checked.catalogue.club
        if club:
            config.site_name = club.model.club
        if not self._preview and (told := warning(config.site_url or "", config.site_name)):
            LOG.info(terminal(told))
        _dress(config)
        # The pages come from the plugin. MkDocs would look through the tree for others, and into hidden
        # folders and whatever a link in them leads to; here it finds none.
        config.docs_dir = _no_sources(config)
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the themed pages; write the light ones, which need nothing of the theme, at once."""
        if self.checked is None:
            return Files([])
        checked, self.checked = self.checked, None
        own = assets(look=look_of(checked.catalogue))
        config.extra["assets"] = own.addresses
        config.extra["styles"] = IN_THE_THEME
        config.extra["policy"] = policy(preview=self._is_preview)
        config.extra["missing"] = _missing(preview=self._is_preview)
        config.extra["preview"] = self._is_preview
        self._precached = precached(checked.catalogue)
        site = Path(config.site_dir)
        for address, content in own.files.values():
            write(site / address, content)
        write(site / MARK, b"")
        for name, content in manifests(checked.catalogue, own.addresses).items():
            write(site / name, content)
        site_url = config.site_url or ""
        renderer = Renderer(checked.catalogue, own, site_url, self._is_preview, checked.versions)
        self._mark, self._ours = renderer.mark, Markup(ours(checked.catalogue))
        if self._preview:
            self._preview.begins(site, own, site_url)
        # The tree stays as it is: the collector need not walk all through it for every few pages.
        gc.freeze()
        try:
            self._add_pages(renderer, site, files, config)
        finally:
            gc.unfreeze()
        return files

    def _add_pages(self, renderer: Renderer, site: Path, files: Files, config: MkDocsConfig) -> None:
        total = renderer.count()
        for done, page in enumerate(renderer.pages()):
            heed()
            self.progress(done, total)
            if self._preview:
                self._preview.has(page)
            if page.themed:
                source = f"{page.address}index.md"
                file = File.generated(config, source, content="", inclusion=InclusionLevel.NOT_IN_NAV)
                file.page = _ReadyPage(page, file, config)
                files.append(file)
            else:
                write(site / page.address / page.file, page.text.encode())
        write_figures(renderer, site)

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Write the worker, and the lists of what it keeps, now that every file is what a browser gets."""
        site = Path(config.site_dir)
        if self._preview:
            self._preview.write_findings(site)
        name = "worker/uninstall.js" if self._preview else "worker/sw.js"
        write(site / "sw.js", worker(name).encode())
        found = OFF
        if not self._preview:
            found = lists(self._precached, _names(site), lambda name: (site / name).read_bytes())
        for name, content in found.items():
            write(site / name, content)

    def on_env(self, env: Environment, /, *, config: MkDocsConfig, files: Files) -> Environment:
        """Keep the theme's compiled templates for the next build of a preview; give it our addresses."""
        env.bytecode_cache = COMPILED
        env.globals["Address"], env.globals["ours"] = Address, self._ours
        return env

    def on_post_page(self, output: str, /, *, page: MkDocsPage, config: MkDocsConfig) -> str:
        """Say the language of every text of a page in the theme's frame."""
        return self._mark(output)

    def on_post_template(self, output_content: str, /, *, template_name: str, config: MkDocsConfig) -> str:
        """The same of the page for a wrong address."""
        return self._mark(output_content) if template_name.endswith(".html") else output_content

    def on_serve(
        self, server: LiveReloadServer, /, *, config: MkDocsConfig, builder: Callable[..., Any]
    ) -> LiveReloadServer:
        """Look for saved files more often than usual: a preview within a second."""
        preview = self._preview
        assert preview is not None
        for path in filter(None, (config.docs_dir, config.config_file_path)):
            server.unwatch(path)
        # It does not look where links lead: two that lead to their own folder would keep it for ever.
        server.observer = watchdog.observers.polling.PollingObserverVFS(  # type: ignore[assignment]
            stat=os.lstat, listdir=os.scandir, polling_interval=_POLL_SECONDS
        )
        server.build_delay = _POLL_SECONDS / 2
        for one in preview.watched:
            server.watch(str(one))

        def build() -> bool:
            # Without this, every request waits until the fault is mended. The findings are printed already.
            try:
                builder()
            except Abort:
                return False
            return True

        app = server.get_app()
        assert app is not None
        server.builder = lambda: preview.saved(build)
        server.set_app(preview.serves(app, build))
        return server


def _no_sources(config: MkDocsConfig) -> str:
    return str(Path(config.site_dir, "no-sources"))


def _without_a_site(config: MkDocsConfig) -> MkDocsConfig:
    """The first build of a preview whose files have errors: it has the findings, and waits for better."""
    config.theme.static_templates.clear()
    config.docs_dir = _no_sources(config)
    return config


def _watched(config: MkDocsConfig) -> list[Path]:
    """What a preview is made of: the tree, the settings, and the theme where it may be changed."""
    settings = [Path(config.config_file_path)] if config.config_file_path else []
    return [Path(config.docs_dir), *settings, *([THEME] if IN_CHECKOUT else [])]


def _missing(*, preview: bool) -> dict[str, str]:
    """What the page for a wrong address has beyond others: its script, and a policy that lets it run."""
    text = script((THEME / MISSING).read_text(encoding="utf-8"))
    return {"script": text, "policy": policy(preview=preview, inline=text)}


def _dress(config: MkDocsConfig) -> None:
    """The look of the pages, which the settings need not name. Raises PluginError."""
    if config.theme.name != THEME_NAME:
        raise PluginError(f"theme in {SETTINGS}: found {config.theme.name}, allowed {THEME_NAME}")
    config.theme.dirs.insert(0, str(THEME))
    config.theme.static_templates.discard("sitemap.xml")
    config.theme.static_templates.add("404.html")
    # A page asks for nothing from elsewhere.
    config.theme["font"] = False
    config.site_description = config.site_description or _DESCRIPTION
    config.theme.get_env = _listing_nothing(config.theme.get_env)  # type: ignore[method-assign]


def _listing_nothing(environment: Callable[[], Environment]) -> Callable[[], Environment]:
    """The theme's templates, none of which is found by listing: its other files are not copied.

    MkDocs looks through all 14,000 of them for those, a third of the time of a small site; no page asks for
    any.
    """

    def made() -> Environment:
        templates = environment()
        templates.list_templates = lambda *_, **__: []  # type: ignore[method-assign]
        return templates

    return made


def _line(finding: Finding) -> str:
    hint = f"\n{terminal(f'    {finding.hint}')}" if finding.hint else ""
    return terminal(f"{place(finding)}: {finding.severity} {finding.check}: {finding.message}") + hint


def _names(site: Path) -> list[str]:
    """Every file of a site; the archive may hold tens of thousands."""
    found = []
    for folder, _, files in os.walk(site):
        below = os.path.relpath(folder, site).replace(os.sep, "/")
        found += files if below == "." else [f"{below}/{file}" for file in files]
    return found
