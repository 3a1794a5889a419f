// What Stop asks: done, too hard, or something hurts; and what to do when it does.
//
// Signs at which help is called at once are those of common first-aid teaching (from memory; no source is cited). The
// page names no injury and asks for no number: what hurts is for people to look at.

const MARKUP = `
<form method="dialog">
<div data-step="why">
<h2 id="why" tabindex="-1">Stop here?</h2>
<p>The clock stands still.</p>
<button type="button" data-why="done">I am done for today</button>
<button type="button" data-why="too hard">Too tired, or too hard</button>
<button type="button" data-why="hurts">Something hurts</button>
<button type="button" data-on>Go on with the session</button>
</div>
<div data-step="hurts" hidden>
<h2 tabindex="-1">Stop now.</h2>
<ol>
<li>Do not try it again to see. No more training today.</li>
<li><b>Tell an adult now</b>, and show where it is. Nobody near? Phone one.</li>
<li data-club hidden></li>
<li>Before you train again, ask a physiotherapist or doctor, and your coach.</li>
</ol>
<section class="alarm" aria-labelledby="alarm">
<h3 id="alarm">Call your local emergency number at once (112 in Europe)</h3>
<p>or shout for an adult to call, if you or whoever is with you sees any of these:</p>
<ul>
<li>passed out, very sleepy, confused, or a fit</li>
<li>a blow to the head with throwing up, seeing double, or a headache that gets worse</li>
<li>trouble breathing, or chest pain</li>
<li>neck or back pain after a fall: stay lying, do not move</li>
<li>an arm or leg that is bent wrong, numb, or cannot be moved; bleeding that does not stop</li>
</ul>
<p>Not sure? Call.</p>
</section>
<label>Where does it hurt? In your own words; you may leave it empty.
<input name="where" maxlength="200" autocomplete="off"></label>
<p class="note">It goes into the log on this device, to show to your coach. Nothing is sent by itself.</p>
<button type="button" class="go" data-save>Save and end the session</button>
<button type="button" data-back>That was a wrong tap</button>
</div>
</form>`;

/**
 * @typedef {object} Answers
 * @property {(why: "done" | "too hard") => void} stop
 * @property {(where: string) => void} hurts
 * @property {() => void} on nothing of it: the session goes on
 */

/**
 * Asks over the session. club: the club's own line on what to do, or "". Gives {close, leave}: `leave` is for when the
 * page goes away meanwhile, and tells what hurts if that was said.
 * @param {HTMLElement} within
 * @param {string} club
 * @param {Answers} answers
 */
export function askToStop(within, club, { stop, hurts, on }) {
  const dialog = document.createElement("dialog");
  dialog.className = "halt";
  dialog.setAttribute("aria-labelledby", "why");
  dialog.innerHTML = MARKUP;
  const one = (/** @type {string} */ selector) => /** @type {HTMLElement} */ (dialog.querySelector(selector));
  const where = /** @type {HTMLInputElement} */ (one("[name=where]"));
  const line = one("[data-club]");
  line.textContent = club;
  line.dir = "auto";
  line.hidden = !club;
  let isHurt = false;
  const step = (/** @type {boolean} */ hurt) => {
    isHurt = hurt;
    one("[data-step=why]").hidden = hurt;
    one("[data-step=hurts]").hidden = !hurt;
    dialog.scrollTop = 0;
    one(`[data-step=${hurt ? "hurts" : "why"}] h2`).focus();
  };
  const end = (/** @type {() => void} */ then) => {
    isHurt = false;
    dialog.remove();
    then();
  };
  dialog.addEventListener("click", ({ target }) => {
    const button = /** @type {Element} */ (target).closest("button");
    const why = button?.dataset.why;
    if (why === "hurts") step(true);
    else if (why === "done" || why === "too hard") end(() => stop(why));
    else if (button && "save" in button.dataset) end(() => hurts(where.value.trim()));
    else if (button && "back" in button.dataset) step(false);
    else if (button && "on" in button.dataset) end(on);
  });
  dialog.addEventListener("submit", (event) => event.preventDefault());
  // Escape takes back the last step; what hurts is not put away by chance.
  dialog.addEventListener("cancel", (event) => {
    event.preventDefault();
    if (isHurt) step(false);
    else end(on);
  });
  within.append(dialog);
  dialog.showModal();
  one("[data-step=why] h2").focus();
  return {
    close: () => dialog.remove(),
    leave: () => isHurt && hurts(where.value.trim()),
  };
}
