// The field card: all of it is there already; only paper is left to ask for.

document.getElementById("print").addEventListener("click", () => window.print());
