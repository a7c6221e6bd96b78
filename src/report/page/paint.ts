/** Right before the page is next drawn; in a tab out of sight, which is not drawn, without delay. */
export function nextFrame(): Promise<void> {
  return new Promise((resolve) => {
    if (document.hidden) setTimeout(resolve, 0);
    else requestAnimationFrame(() => resolve());
  });
}

/** When what was written in this frame has been drawn. */
export function afterPaint(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(null);
  });
}
