/** One field that finds compounds in every table and section of the page. */
export function findTools(count: number): () => void {
  const tools = document.getElementById("card-tools");
  if (tools === null || count < 7) return () => {};
  const search = document.createElement("input");
  search.type = "search";
  search.placeholder = "Find a compound";
  search.setAttribute("aria-label", "Find a compound");
  const shown = document.createElement("span");
  shown.className = "small";
  shown.setAttribute("role", "status");
  tools.append(search, shown);
  const fits = (name: string | null | undefined) =>
    (name ?? "").toLowerCase().includes(search.value.trim().toLowerCase());
  const apply = () => {
    for (const row of document.querySelectorAll<HTMLElement>("tr[data-compound]"))
      row.toggleAttribute("data-not-found", !fits(row.querySelector("th .name")?.textContent));
    for (const section of document.querySelectorAll<HTMLElement>(".compound"))
      section.toggleAttribute("data-not-found", !fits(section.querySelector("h3")?.textContent));
    const found = document.querySelectorAll("#card tr[data-compound]:not([data-not-found])").length;
    const text = search.value.trim() === "" ? "" : `${found} of ${count} compounds`;
    if (shown.textContent !== text) shown.textContent = text;
  };
  search.addEventListener("input", apply);
  return () => {
    if (search.value.trim() !== "") apply();
  };
}
