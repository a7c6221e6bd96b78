/** Right before the page is next drawn; in a tab out of sight, which is not drawn, without delay. */
export function nextFrame(): Promise<void> {
  return new Promise((resolve) => {
    if (document.hidden) setTimeout(resolve, 0);
    else requestAnimationFrame(() => resolve());
  });
}
