// The list of jobs and the list of a job's versions.
import { ask, chosenLight, Gone, light } from "./ask.js";

const page = document.body;

async function send(address, body, refusal, done) {
  try {
    const answer = await ask("POST", address, body);
    if (answer.status < 300) done(answer.body);
    else refusal.textContent = answer.body.message;
  } catch (error) {
    if (!(error instanceof Gone)) throw error;
    refusal.textContent = "The program isn't answering. Start it again and try once more.";
  }
}

page.addEventListener("submit", (event) => {
  event.preventDefault();
  const form = event.target;
  send("/jobs", { title: form.elements.title.value }, form.querySelector(".refusal"), ({ link }) => location.assign(link));
});

page.addEventListener("click", ({ target }) => {
  const button = target.closest("[data-do='bring-back']");
  if (!button) return;
  const sheet = "/job/" + encodeURIComponent(page.dataset.job);
  send(sheet + "/bring-back", { version: button.dataset.version, token: page.dataset.token }, document.getElementById("refusal"), () => location.assign(sheet));
});

const choice = document.getElementById("light");
if (choice) {
  choice.value = chosenLight();
  choice.addEventListener("change", () => light(choice.value));
}

// A circuit that is still being proved has its findings counted in a moment.
if (document.querySelector("[data-proving]")) {
  setTimeout(async () => {
    const fresh = new DOMParser().parseFromString(await (await fetch(location.href)).text(), "text/html");
    document.querySelector(".jobs")?.replaceWith(fresh.querySelector(".jobs"));
  }, 2000);
}
