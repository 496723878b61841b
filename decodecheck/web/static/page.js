"use strict";
/* Asks the server for the parts of the page as the text, the order or the step changes. Without this script the page works by its buttons. */

const $ = (id) => document.getElementById(id);
const form = $("all"), text = $("text"), story = $("story"), card = $("card"), lead = $("lead"), beside = $("beside");
const root = document.documentElement;
const MOST_UNDO = 100;
root.classList.add("script");

/* -- asking ------------------------------------------------------------------------------------------------------------ */

function fields(more) {
  const data = new FormData(form);
  for (const name of ["file", "order_file", "view", "as"]) data.delete(name);
  for (const [name, value] of Object.entries(more || {})) data.set(name, value);
  return data;
}

async function ask(path, more, signal) {
  let answer;
  try {
    answer = await fetch(path, { method: "POST", body: more instanceof FormData ? more : fields(more), signal });
  } catch (error) {
    if (error.name === "AbortError") throw error;
    return { ok: false, made: said("The page does not answer any more.", "Is the window still open in which it was started?") };
  }
  const got = await answer.text();
  if ((answer.headers.get("content-type") || "").includes("json")) return { ok: answer.ok, status: answer.status, data: JSON.parse(got) };
  const made = document.createElement("template");
  made.innerHTML = got;
  return { ok: answer.ok, status: answer.status, made: made.content };
}

function said(what, todo) {
  const box = document.createElement("div"), first = document.createElement("p"), strong = document.createElement("strong");
  box.className = "problem";
  box.setAttribute("role", "alert");
  strong.textContent = what;
  first.append(strong);
  box.append(first);
  if (todo) {
    const second = document.createElement("p");
    second.textContent = todo;
    box.append(second);
  }
  const made = document.createDocumentFragment();
  made.append(box);
  return made;
}

/* -- the text as it reads ---------------------------------------------------------------------------------------------- */

let asking = null, wanted = false, listedAs = "";

/* One question at a time; what changes meanwhile is asked for next. */
async function mark() {
  wanted = true;
  if (asking) return asking;
  asking = (async () => {
    while (wanted) {
      wanted = false;
      await markOnce();
    }
    asking = null;
  })();
  return asking;
}

async function markOnce() {
  if (listedAs && root.classList.contains("words-shown")) await list(listedAs);
  const empty = !text.value.trim();
  $("text-view").classList.toggle("empty", empty);
  if (empty) {
    lead.replaceChildren();
    beside.replaceChildren();
    story.replaceChildren(hint.cloneNode(true));
    closeCard(false);
    return;
  }
  const held = document.activeElement && document.activeElement.closest("#story .word");
  const at = held ? Number(held.dataset.at) : -1;
  let first = await ask("/marks", { part: 0 });
  root.classList.toggle("stale", !first.ok);
  if (!first.ok) {
    // what is wrong with an order stands beside it already
    const wrong = $("standing").querySelector(".problem");
    lead.replaceChildren(wrong ? said("The text cannot be marked by this order of teaching.", "Mend its mistakes first.") : first.made);
    beside.replaceChildren();
    return;
  }
  lead.replaceChildren(...first.made.querySelector("[data-lead]").childNodes);
  story.replaceChildren(...first.made.querySelector("[data-story]").childNodes);
  if (at >= 0 && !story.contains(document.activeElement)) (wordAt(at) || story).focus({ preventScroll: true });
  story.classList.toggle("long", first.made.querySelector("[data-following]").dataset.following !== "0");
  let following = Number(first.made.querySelector("[data-following]").dataset.following);
  while (following && !wanted) {
    const next = await ask("/marks", { part: following });
    if (!next.ok) break;
    story.append(...next.made.querySelector("[data-story]").childNodes);
    following = Number(next.made.querySelector("[data-following]").dataset.following);
  }
  if (wanted) return;
  const more = await ask("/beside");
  if (!wanted) {
    beside.replaceChildren(more.made);
    lit = "";
    await practise();
  }
}

/* Looked at only where somebody wants to see it: it takes longer than all the rest. */
async function practise() {
  const found = $("practice-of").open && text.value.trim() ? await ask("/practice") : null;
  if (found && !wanted) $("practice").replaceChildren(found.made);
}
$("practice-of").addEventListener("toggle", practise);

const hint = story.querySelector(".hint") ? story.querySelector(".hint").cloneNode(true) : document.createElement("p");

function wordAt(at) {
  return story.querySelector(`.word[data-at="${at}"]`);
}

function words() {
  return [...story.querySelectorAll(".word")];
}

let waiting = 0;
function soon(action, pause) {
  clearTimeout(waiting);
  waiting = setTimeout(action, pause);
}

/* -- lighting up what one thing is in the way of ------------------------------------------------------------------------- */

let lit = "";
function light(button) {
  const on = button.getAttribute("aria-pressed") !== "true";
  for (const other of beside.querySelectorAll(".light")) other.setAttribute("aria-pressed", "false");
  button.setAttribute("aria-pressed", String(on));
  const named = new Set(on ? button.dataset.words.split("|") : []);
  for (const word of words()) word.classList.toggle("lit", named.has(word.dataset.word));
  lit = on ? button.textContent : "";
  const first = story.querySelector(".lit");
  if (first) first.scrollIntoView({ block: "nearest" });
}

/* -- the card of a word ---------------------------------------------------------------------------------------------------- */

let cardAsked = null, opener = null, cardFor = "", returning = false;

async function openCard(more, from, into) {
  const key = JSON.stringify(more);
  if (key === cardFor && !card.hidden) {
    if (into) $("card-title")?.focus({ preventScroll: true });
    return;
  }
  if (cardAsked) cardAsked.abort();
  cardAsked = new AbortController();
  opener = from;
  let answer;
  try {
    answer = await ask("/word", more, cardAsked.signal);
  } catch (error) {
    return;
  }
  if (!answer.ok && more.quiet) return;
  cardFor = key;
  card.replaceChildren(answer.made);
  card.hidden = false;
  root.classList.add("carded");
  for (const word of words()) word.classList.toggle("open", word === from);
  if (from && from.matches(".word")) from.scrollIntoView({ block: "nearest" });
  if (into) ($("card-title") || card).focus({ preventScroll: true });
}

function closeCard(back) {
  if (cardAsked) cardAsked.abort();
  if (card.hidden) return;
  card.hidden = true;
  cardFor = "";
  root.classList.remove("carded");
  const own = card.querySelector(".word-card");
  card.replaceChildren();
  for (const word of words()) word.classList.remove("open");
  if (!back) return;
  const from = (own && wordAt(own.dataset.start)) || (opener && opener.isConnected ? opener : story);
  // a word that is come back to does not open its card again
  returning = true;
  from.focus({ preventScroll: true });
  returning = false;
}

/* The place in the text, in characters as the server counts them, that was touched. */
function touched(event) {
  let node, offset;
  if (document.caretPositionFromPoint) {
    const at = document.caretPositionFromPoint(event.clientX, event.clientY);
    if (at) [node, offset] = [at.offsetNode, at.offset];
  } else if (document.caretRangeFromPoint) {
    const at = document.caretRangeFromPoint(event.clientX, event.clientY);
    if (at) [node, offset] = [at.startContainer, at.startOffset];
  }
  const line = node && (node.nodeType === 1 ? node : node.parentElement).closest("#story p[data-start]");
  if (!line) return -1;
  const before = document.createRange();
  before.setStart(line, 0);
  before.setEnd(node, offset);
  return Number(line.dataset.start) + [...before.toString()].length;
}

story.addEventListener("click", (event) => {
  const word = event.target.closest(".word");
  if (word) return openCard({ start: word.dataset.at }, word, true);
  const at = touched(event);
  if (at >= 0 && String(getSelection()) === "") openCard({ start: at, quiet: "yes" }, null, false);
});
story.addEventListener("focusin", (event) => {
  const word = event.target.closest(".word");
  if (word && !returning && word.matches(":focus-visible")) openCard({ start: word.dataset.at }, word, false);
});
story.addEventListener("keydown", (event) => {
  const word = event.target.closest(".word");
  const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
  if (!word || !step) return;
  const all = words(), next = all[all.indexOf(word) + step];
  if (next) {
    event.preventDefault();
    next.focus();
  }
});
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && !card.hidden) closeCard(true);
});

/* -- what can be done from the card ------------------------------------------------------------------------------------------ */

function addLine(line) {
  const field = $("added"), lines = field.value.split("\n").filter((own) => own.trim());
  if (!lines.includes(line)) lines.push(line);
  field.value = lines.join("\n");
  $("this-text").open = true;
}

function settle(plain, number, sense) {
  const list = $("settled");
  for (const input of [...list.querySelectorAll("input")]) {
    const [word, at] = input.value.split("|");
    if (word === plain && (number === 0 || Number(at) === number)) input.parentElement.remove();
  }
  const item = document.createElement("li"), input = document.createElement("input"), told = document.createElement("span");
  const out = document.createElement("button");
  input.type = "hidden";
  input.name = "sense";
  input.value = `${plain}|${number}|${sense}`;
  told.textContent = `${plain}: ${sense} (${number ? `time ${number}` : "each time"}) `;
  out.type = "button";
  out.dataset.do = "unsettle";
  out.textContent = "Take out";
  item.append(input, told, out);
  list.append(item);
  $("this-text").open = true;
}

function like(word, other) {
  const first = [...word][0] || "";
  return first !== first.toLowerCase() ? other.charAt(0).toUpperCase() + other.slice(1) : other;
}

function replaceWord(own, other, eachTime, article) {
  remember();
  const start = Number(own.dataset.start), end = Number(own.dataset.end), letters = Array.from(text.value);
  if (eachTime) {
    const plain = own.dataset.word.replace(/[.*+?^${}()|[\]\\]/g, "\\$&").replace(/['’]/g, "['’]");
    const found = new RegExp(`(?<![\\p{L}\\p{N}])${plain}(?![\\p{L}\\p{N}])`, "giu");
    text.value = text.value.replace(found, (word) => like(word, other));
  } else {
    const before = letters.slice(0, start).join("");
    const with_ = article ? before.replace(/\ban?(\s+)$/i, (old, blank) => like(old, article) + blank) : before;
    text.value = with_ + like(own.dataset.word, other) + letters.slice(end).join("");
  }
  closeCard(false);
  after(start, `“${own.dataset.word}” is now “${like(own.dataset.word, other)}”. Undo takes it back.`);
}

/* Mark again, and go on with the next word that is marked. */
async function after(start, told) {
  remember();
  await mark();
  announce(told);
  (words().find((word) => Number(word.dataset.at) >= start) || story).focus({ preventScroll: true });
}

function announce(told) {
  $("told").textContent = told;
}

card.addEventListener("click", async (event) => {
  const button = event.target.closest("[data-do]"), own = card.querySelector(".word-card");
  if (!button) return;
  remember();
  const start = own ? Number(own.dataset.start) : -1;
  const eachTime = button.closest("fieldset")?.querySelector(".each-time")?.checked || false;
  const [plain, number] = own ? [own.dataset.plain, Number(own.dataset.number)] : ["", 0];
  switch (button.dataset.do) {
    case "close":
      return closeCard(true);
    case "settle":
      settle(plain, eachTime ? 0 : number, button.dataset.sense);
      closeCard(false);
      return after(start, `Settled: ${plain} in the sense ${button.dataset.sense}.`);
    case "add":
      addLine(button.dataset.line);
      closeCard(false);
      return after(start, `Added for this text: ${button.dataset.line}.`);
    case "pin":
      addLine(`word ${button.dataset.form} = ${$("pin").value.trim()}`);
      closeCard(false);
      return after(start, `Added for this text: the reading of ${button.dataset.form}.`);
    case "replace": {
      const other = (button.dataset.with || $("instead").value).trim();
      return other ? replaceWord(own, other, eachTime, button.dataset.article) : $("instead").focus();
    }
  }
});
card.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || event.target.tagName !== "INPUT" || event.target.type !== "text") return;
  event.preventDefault();
  event.target.parentElement.querySelector("button").click();
});
$("settled").addEventListener("click", (event) => {
  if (event.target.dataset.do !== "unsettle") return;
  remember();
  event.target.parentElement.remove();
  remember();
  mark();
});

/* -- undo ---------------------------------------------------------------------------------------------------------------------- */

/* What can be taken back: the text, what was added for it, and which senses were settled. */
const states = [];
function state() {
  return JSON.stringify([text.value, $("added").value, $("settled").innerHTML]);
}

function remember() {
  const now = state();
  if (states.length && states[states.length - 1] === now) return;
  states.push(now);
  if (states.length > MOST_UNDO) states.shift();
  $("undo").disabled = states.length < 2;
}

$("undo").addEventListener("click", async () => {
  remember();
  if (states.length < 2) return;
  states.pop();
  [text.value, $("added").value, $("settled").innerHTML] = JSON.parse(states[states.length - 1]);
  closeCard(false);
  await mark();
  announce("Taken back.");
  $("undo").disabled = states.length < 2;
  if (states.length < 2) text.focus();
});

/* -- the text itself --------------------------------------------------------------------------------------------------------- */

function writing(on) {
  root.classList.toggle("writing", on && !!text.value.trim());
  $("editor").hidden = !on;
  $("edit").setAttribute("aria-expanded", String(on));
}

text.addEventListener("input", () => {
  root.classList.toggle("writing", !!text.value.trim());
  soon(() => {
    remember();
    mark();
  }, 200);
});
text.addEventListener("paste", () => setTimeout(() => {
  remember();
  mark();
}, 0));
$("edit").addEventListener("click", () => {
  const on = $("editor").hidden;
  writing(on);
  if (on) text.focus();
});
$("copy").addEventListener("click", async () => {
  try {
    await navigator.clipboard.writeText(text.value);
  } catch (error) {
    const hidden = $("editor").hidden;
    $("editor").hidden = false;
    text.select();
    document.execCommand("copy");
    $("editor").hidden = hidden;
  }
  announce("The text is copied.");
});
$("print").addEventListener("click", () => window.print());

/* -- files --------------------------------------------------------------------------------------------------------------------- */

async function takeFile(file) {
  const data = new FormData();
  data.set("file", file);
  const answer = await ask("/file", data);
  $("file").value = "";
  if (!answer.ok) {
    $("problems").replaceChildren(answer.made);
    $("problems").scrollIntoView({ block: "nearest" });
    return;
  }
  $("problems").replaceChildren();
  remember();
  text.value = answer.data.text;
  remember();
  view("#text-view");
  if (answer.data.step) stepTo(answer.data.step);
  await mark();
  writing(false);
  story.focus({ preventScroll: true });
}

async function takeOrder(file) {
  const data = fields({ order: "own" });
  data.set("order_file", file);
  await stand(data);
  $("order-file").value = "";
}

function taken(file) {
  return /\.(progression|xlsx|xlsm|csv|tsv)$/i.test(file.name) ? takeOrder(file) : takeFile(file);
}

$("file").addEventListener("change", () => $("file").files.length && takeFile($("file").files[0]));
$("order-file").addEventListener("change", () => $("order-file").files.length && takeOrder($("order-file").files[0]));
document.addEventListener("dragover", (event) => {
  if (![...event.dataTransfer.types].includes("Files")) return;
  event.preventDefault();
  document.body.classList.add("dropping");
});
document.addEventListener("dragleave", (event) => {
  if (!event.relatedTarget) document.body.classList.remove("dropping");
});
document.addEventListener("drop", (event) => {
  document.body.classList.remove("dropping");
  if (!event.dataTransfer.files.length) return;
  event.preventDefault();
  taken(event.dataTransfer.files[0]);
});

/* -- what has been taught ---------------------------------------------------------------------------------------------------- */

async function stand(data) {
  const focused = document.activeElement ? document.activeElement.id : "";
  const answer = await ask("/standing", data || undefined);
  $("standing").replaceChildren(answer.made);
  const own = $("standing").querySelector("[data-own]");
  if (data && own) $("own").value = own.dataset.own;
  $("own-order").open = $("order")?.value === "own";
  if (focused && $(focused)) $(focused).focus({ preventScroll: true });
  mark();
}

function sayStep() {
  const slider = $("at"), steps = JSON.parse(slider.dataset.steps), [number, title] = steps[slider.value - 1];
  const words = `step ${number} of ${steps[steps.length - 1][0]}${title ? `: ${title}` : ""}`;
  $("step-said").textContent = words;
  slider.setAttribute("aria-valuetext", words);
}

function stepTo(step) {
  const slider = $("at");
  const at = slider ? JSON.parse(slider.dataset.steps).findIndex(([number]) => String(number) === step.trim()) : -1;
  if (at < 0) return;
  slider.value = at + 1;
  sayStep();
}

$("teaching").addEventListener("input", (event) => {
  if (event.target.id === "at") {
    sayStep();
    closeCard(false);
    mark();
  } else if (event.target.id === "own") {
    soon(() => {
      if ($("order").value !== "own") $("order").value = "own";
      stand();
    }, 500);
  } else if (event.target.id === "group" || event.target.id === "added") {
    soon(() => {
      remember();
      mark();
    }, 500);
  }
});
$("teaching").addEventListener("change", (event) => {
  if (event.target.id !== "order") return;
  closeCard(false);
  stand();
});

/* -- looking up, lighting up, words for a lesson --------------------------------------------------------------------------- */

$("look-up").addEventListener("click", () => {
  const word = $("any-word").value.trim();
  if (word) openCard({ word }, $("any-word"), true);
});
beside.addEventListener("click", (event) => {
  const button = event.target.closest(".light");
  if (button) light(button);
});
form.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || event.target.tagName !== "INPUT" || event.target.closest("#card")) return;
  // the first button of the form is not what is meant by Enter in a field
  event.preventDefault();
  if (event.target.id === "any-word") $("look-up").click();
  else if (event.target.closest(".columns")) form.querySelector("button[value=find]").click();
});
form.addEventListener("submit", async (event) => {
  const button = event.submitter;
  if (button && button.name === "view") {
    event.preventDefault();
    await list(button.value);
    $("listed").scrollIntoView({ block: "nearest" });
  }
});

/* A list as it was last asked for: found, or one's own. */
async function list(kind) {
  const answer = await ask("/words", { view: kind });
  $("listed").replaceChildren(answer.made);
  listedAs = kind;
}

/* -- the two views ------------------------------------------------------------------------------------------------------------- */

function view(hash) {
  const name = hash === "#words-view" ? "words-view" : "text-view";
  $("text-view").hidden = name !== "text-view";
  $("words-view").hidden = name !== "words-view";
  root.classList.toggle("words-shown", name === "words-view");
  root.classList.toggle("text-shown", name === "text-view");
  for (const link of document.querySelectorAll("nav a")) {
    if (link.getAttribute("href") === `#${name}`) link.setAttribute("aria-current", "true");
    else link.removeAttribute("aria-current");
  }
}

document.querySelector("nav").addEventListener("click", (event) => {
  const link = event.target.closest("a");
  if (!link) return;
  event.preventDefault();
  history.replaceState(null, "", link.getAttribute("href"));
  $("problems").replaceChildren();
  view(link.getAttribute("href"));
  // the step may have moved meanwhile
  if (listedAs && root.classList.contains("words-shown")) list(listedAs);
});

view(location.hash);
remember();
if (text.value.trim()) {
  writing(false);
  mark();
} else {
  writing(true);
}
