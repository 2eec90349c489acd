// Sends a form's text as JSON by the form's method, and shows what was answered.
"use strict";

// A change has to name the version that it changes: the one that is there now.
async function versionOf(address) {
  const answer = await fetch(address, { headers: { Accept: "application/json" } });
  return answer.headers.get("ETag");
}

async function send(form) {
  const method = form.dataset.method;
  const headers = { Accept: "application/json", "X-CSRFToken": form.elements.csrfmiddlewaretoken.value };
  const options = { method, headers };
  if (form.elements.body) {
    headers["Content-Type"] = "application/json";
    options.body = form.elements.body.value;
  }
  if (method !== "POST") {
    const version = await versionOf(form.action);
    if (version) headers["If-Match"] = version;
  }
  const answer = await fetch(form.action, options);
  const text = await answer.text();
  return { line: `${answer.status} ${answer.statusText}`, place: answer.headers.get("Location"), text };
}

function show(output, { line, place, text }) {
  output.replaceChildren(line);
  if (place) {
    const link = document.createElement("a");
    link.href = place;
    link.textContent = place;
    output.append("\n", link);
  }
  if (text) output.append("\n\n", text);
}

for (const form of document.querySelectorAll("form[data-method]")) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const output = form.querySelector("output");
    const button = form.querySelector("button");
    button.disabled = true;
    output.textContent = "Sending …";
    try {
      show(output, await send(form));
    } catch (error) {
      output.textContent = `Nothing was answered (${error.message}). Is the service running?`;
    } finally {
      button.disabled = false;
    }
  });
}
