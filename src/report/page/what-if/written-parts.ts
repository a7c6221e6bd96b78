/** Parts of the page that are written anew, with what stood there first, so that it can come back. */
export function writtenParts() {
  const originals = new Map<Element, string>();
  return {
    /** Remembers a part as it is now, before the page's tools add to it. */
    keep(place: Element | null): void {
      if (place !== null && !originals.has(place)) originals.set(place, place.innerHTML);
    },
    write(place: Element | null, markup: string): void {
      if (place === null) return;
      this.keep(place);
      place.innerHTML = markup;
    },
    restore(): void {
      for (const [place, markup] of originals) {
        if (place.innerHTML !== markup) place.innerHTML = markup;
      }
    },
  };
}

/** Marks parts whose intervals are still to come: their place stays, empty. */
export function markPending(places: Iterable<Element | null>, isPending: boolean): void {
  for (const place of places) {
    if (place === null) continue;
    place.setAttribute("data-intervals", isPending ? "pending" : "yes");
    place.setAttribute("aria-busy", String(isPending));
  }
}
