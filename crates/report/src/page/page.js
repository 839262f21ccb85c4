// Shows the design that the pointer or the keyboard is on, in the line under the chart and in the table.
for (const map of document.querySelectorAll("figure.map")) {
  const line = map.querySelector("output");
  const table = map.nextElementSibling;
  const first = line.textContent;
  const show = (dot) => {
    for (const cell of table.querySelectorAll("[data-design]")) {
      cell.classList.toggle("shown", dot !== null && cell.dataset.design === dot.dataset.design);
    }
    line.textContent = dot === null ? first : dot.getAttribute("aria-label");
  };
  for (const dot of map.querySelectorAll(".design")) {
    dot.addEventListener("pointerenter", () => show(dot));
    dot.addEventListener("focus", () => show(dot));
    dot.addEventListener("pointerleave", () => show(null));
    dot.addEventListener("blur", () => show(null));
  }
}
// On paper nothing is folded.
addEventListener("beforeprint", () => {
  for (const folded of document.querySelectorAll("details")) folded.open = true;
});
