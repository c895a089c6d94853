// A log picked or dropped, one at a time.

import { say } from "./send.js";

// Take what is picked in the field or dropped anywhere on the page; `bring` is given the file.
export function takeLogs(bring) {
  const drop = document.getElementById("drop");
  document.getElementById("file").addEventListener("change", (event) => {
    const [file] = event.target.files;
    if (file) bring(file);
    event.target.value = ""; // the same file can be picked again
  });
  for (const name of ["dragenter", "dragover"]) {
    document.addEventListener(name, (event) => {
      if (![...(event.dataTransfer?.types ?? [])].includes("Files")) return;
      event.preventDefault();
      drop.classList.add("over");
    });
  }
  document.addEventListener("dragleave", (event) => {
    if (!event.relatedTarget) drop.classList.remove("over");
  });
  document.addEventListener("drop", (event) => {
    drop.classList.remove("over");
    const files = [...(event.dataTransfer?.files ?? [])];
    if (!files.length) return;
    event.preventDefault();
    if (files.length > 1) say("One flight at a time: drop one log.");
    else bring(files[0]);
  });
}
