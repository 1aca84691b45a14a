"use strict";
// Works the draft anew a moment after the last key, and shows where a finding
// is. Everything else is made on the other side.
const form = document.getElementById("form");
const draft = document.getElementById("draft");
const result = document.getElementById("result");
let waiting, asked = 0;

async function work() {
  const turn = ++asked;
  try {
    const answer = await fetch("result", { method: "POST", body: new URLSearchParams({ draft: draft.value }) });
    const text = await answer.text();
    if (turn !== asked) return; // typed on meanwhile
    if (answer.ok) result.innerHTML = text;
    else result.textContent = text;
  } catch {
    if (turn === asked) result.textContent = "No answer; is the program still running?";
  }
}

draft.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(work, 250);
});
// A button with a fix mends the draft; if that has changed since, the button
// is out of date, and so is the result.
async function mend(fix) {
  const before = draft.value;
  const answer = await fetch("fix", { method: "POST", body: new URLSearchParams({ draft: before, fix }) }).catch(() => null);
  const text = answer?.ok ? await answer.text() : null;
  if (text !== null && draft.value === before) draft.value = text;
  work();
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  clearTimeout(waiting);
  const fix = event.submitter?.name === "fix" ? event.submitter.value : "";
  if (fix) mend(fix);
  else work();
});
result.addEventListener("click", (event) => {
  const link = event.target.closest("a[data-from]");
  if (!link) return;
  event.preventDefault();
  draft.focus();
  draft.setSelectionRange(+link.dataset.from, +link.dataset.to);
});
result.setAttribute("aria-live", "polite");
work();
