# Needs Python 3.11 or later and make. Every target makes its own .venv first.
# The theme prints a notice about another product's future on each build; it says nothing about this one.
export NO_MKDOCS_2_WARNING := 1
# Compiled modules are kept, whatever this machine is set to: a run of the tests starts hundreds of processes.
unexport PYTHONDONTWRITEBYTECODE

VENV := .venv
PY := $(VENV)/bin/python
# What a build needs; and what lint, tests and print need beyond it.
READY := $(VENV)/.ready
TOOLS := $(VENV)/.tools
PIP := $(PY) -m pip --quiet --disable-pip-version-check
PYTEST_ARGS ?=
BASE ?=
UPGRADE ?=
FUZZ_CASES ?=
FUZZ_SEED ?=
MUTANTS ?=

.DEFAULT_GOAL := help
.PHONY: help site serve check review schema test test-all fuzz mutants lint format bench lock clean

help: ## this list
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "make %-8s %s\n", $$1, $$2 }' $(MAKEFILE_LIST)

site: $(READY) ## check the demo club and build its site into site/
	@$(VENV)/bin/phasepress build --to site

serve: $(READY) ## live preview on this machine
	@$(VENV)/bin/phasepress serve

check: $(READY) ## every finding in every file; BASE=main compares with what is published there
	@$(VENV)/bin/phasepress check $(if $(BASE),--base $(BASE))

# The logs are invented, of nobody; they need the tools of the tests.
review: $(TOOLS) ## a review of invented logs, into reviews/invented.html
	@$(PY) -m tests.fixtures.invented_logs build/invented-logs
	@mkdir -p reviews
	@$(VENV)/bin/phasepress review build/invented-logs --to reviews/invented.html
	@echo "open reviews/invented.html in a browser"

schema: $(READY) ## write the JSON Schemas
	@$(VENV)/bin/phasepress schema

# Lint and tests both run, so one call shows every fault; pytest comes last, so its summary does too. Each worker takes
# files that stand together, and the first that is done takes from the other, so both have what a file builds once.
test: $(TOOLS) ## lint, types and every test, of many like cases a few; PYTEST_ARGS='-k name' narrows it
	@$(PY) -m tests.browser.chromium || true
	@$(PY) -m tests.engines.machine || true
	@status=0; \
	$(MAKE) --no-print-directory lint || status=1; \
	$(PY) -m pytest -n auto --dist worksteal $(PYTEST_ARGS) || status=1; \
	exit $$status

# What is alike, and how few of it make test takes, is said in tests/samples.py.
test-all: ## the same with every case: all sheets, seeds, damages, screens
	@PHASEPRESS_TEST_ALL=1 $(MAKE) --no-print-directory test

# New seeds each time, so that it finds what the fixed ones of make test do not.
fuzz: $(TOOLS) ## hostile files for minutes; FUZZ_CASES=1000 of each kind, FUZZ_SEED=1 the first seed
	@FUZZ_CASES=$(FUZZ_CASES) FUZZ_SEED=$(FUZZ_SEED) $(PY) -m tests.fuzz

# All edits of the three wings take hours, so a sample is usual; a module alone, minutes.
mutants: $(TOOLS) ## do tests notice single edits? MUTANTS='--sample 100 --seed 2' or MUTANTS=generator/computing/weeks.py
	@$(PY) -m tests.mutants $(or $(MUTANTS),--sample 100)

lint: $(TOOLS) ## ruff and mypy; scripts and styles too, where Node.js is
	@status=0; \
	$(PY) -m ruff check . || status=1; \
	$(PY) -m ruff format --check . || { echo "make format puts the layout right" >&2; status=1; }; \
	$(PY) -m mypy || status=1; \
	sh tests/scripts/lint.sh || status=1; \
	exit $$status

format: $(TOOLS) ## put the layout of Python files and scripts right
	@$(PY) -m ruff format .
	@sh tests/scripts/lint.sh --write

bench: $(TOOLS) ## measure the build
	@PYTHONPATH=. $(PY) tests/bench/bench.py

# Keeps the versions that still fit; UPGRADE=--upgrade takes the newest of everything not pinned above, and of the tool
# that writes the pins, which has its own in lock-tool.txt.
LOCK := $(VENV)/lock/bin/uv pip compile --quiet $(UPGRADE) --universal --fork-strategy fewest \
	--python-version 3.11 --generate-hashes --no-emit-index-url --no-annotate \
	--custom-compile-command "make lock    (make lock UPGRADE=--upgrade for newer versions)"

lock: $(READY) ## renew requirements.lock and requirements-dev.lock from pyproject.toml
	@$(PY) -m venv $(VENV)/lock
	@$(VENV)/lock/bin/python -m pip --quiet --disable-pip-version-check install \
		--require-hashes --only-binary :all: --requirement lock-tool.txt
	@$(LOCK) --extra build pyproject.toml --output-file requirements.lock
	@$(LOCK) --extra dev --extra build --extra print --constraint requirements.lock pyproject.toml \
		--output-file requirements-dev.lock
	@echo uv | $(LOCK) - --output-file lock-tool.txt
	@rm -rf $(VENV)/lock

clean: ## remove what was built and cached; keeps .venv
	@rm -rf site build *.egg-info .mypy_cache .ruff_cache .pytest_cache .hypothesis
	@find generator tests -name __pycache__ -type d -prune -exec rm -rf {} +

# An interpreter manager may offer a python3.11 that does not run, so each candidate is tried.
$(READY): requirements.lock pyproject.toml
	@python=; \
	for candidate in python3.11 python3; do \
		if $$candidate -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; \
		then python=$$candidate; break; fi; \
	done; \
	if [ -z "$$python" ]; then \
		echo "phasepress needs Python 3.11 or later as python3.11 or python3;" \
			"found: $$(python3 --version 2>&1 || true)" >&2; exit 1; \
	fi; \
	if ! $$python -c 'import ensurepip, venv' 2>/dev/null; then \
		echo "$$python cannot make virtual environments (venv or ensurepip is missing)." \
			"On Debian and Ubuntu: apt-get install python3-venv" >&2; exit 1; \
	fi; \
	if ! $(PY) -m pip --version >/dev/null 2>&1; then \
		echo "making $(VENV) with $$($$python --version) ..."; \
		$$python -m venv --clear $(VENV); \
	fi
	@$(PIP) install --require-hashes --requirement requirements.lock
	@$(PIP) install --no-deps --no-build-isolation --editable .
	@touch $@

# Holds all of requirements.lock too, so that one file says what tests run with.
$(TOOLS): $(READY) requirements-dev.lock
	@$(PIP) install --require-hashes --requirement requirements-dev.lock
	@touch $@
