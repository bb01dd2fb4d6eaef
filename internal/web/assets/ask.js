// How the pages talk to the server: always JSON, and a lost server is told apart from a refused change.

// Gone is thrown when the server didn't answer at all.
export class Gone extends Error {}

// ask sends the body and returns { status, body }.
export async function ask(method, address, body) {
  let answer;
  try {
    answer = await fetch(address, {
      method,
      headers: body === undefined ? {} : { "Content-Type": "application/json" },
      body: body === undefined ? undefined : JSON.stringify(body),
    });
    return { status: answer.status, body: await answer.json() };
  } catch (error) {
    if (answer) return { status: answer.status, body: { message: "the answer can't be read" } };
    throw new Gone(error.message);
  }
}

// build makes an element: build("p", { class: "note" }, "text", anotherElement).
export function build(name, attributes, ...content) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes ?? {})) element.setAttribute(key, value);
  element.append(...content);
  return element;
}

// light sets the paper light, dark or ("") as the system has it, for this and later visits.
export function light(chosen) {
  if (chosen) {
    localStorage.setItem("drivewright light", chosen);
    document.documentElement.dataset.light = chosen;
  } else {
    localStorage.removeItem("drivewright light");
    delete document.documentElement.dataset.light;
  }
}

export const chosenLight = () => localStorage.getItem("drivewright light") ?? "";
