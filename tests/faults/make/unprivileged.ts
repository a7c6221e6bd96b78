import { loadPageAssets } from "../../../src/report/load-page-assets.js";

/**
 * Runs something without the rights of an administrator, who may read and write what others may not. Where
 * the tests do not run as one, nothing needs to change.
 */
export async function unprivileged<T>(run: () => Promise<T>): Promise<T> {
  if (process.getuid?.() !== 0) return run();
  // The checkout itself may lie where nobody else may look, such as in the administrator's home.
  loadPageAssets();
  const nobody = 65534;
  process.setegid!(nobody);
  process.seteuid!(nobody);
  try {
    return await run();
  } finally {
    process.seteuid!(0);
    process.setegid!(0);
  }
}
