import { config } from "zod";

// By default zod tries whether it may compile its checks from text; the page's security policy forbids that, and
// the browser would complain about the trial. To be imported before any schema is made.
config({ jitless: true });
