// What this phone can and cannot do for the lines: tested at the start, said where it falls short.

import { newId } from "./ids.js";
import { asked } from "./keeping.js";

/**
 * `{keeps, why, persistent, room, opensAlone}`: whether a line can be kept at all, whether the browser has
 * promised not to clear it (null: it cannot be asked on plain http), bytes left (null: not told), and
 * whether the page opens with no signal.
 */
export async function tested(keeping) {
  const proof = newId();
  let why = null;
  try {
    await keeping.write(["facts"], ({ facts }) => asked(facts.put(proof, "proof")));
    const back = await keeping.read(["facts"], ({ facts }) => asked(facts.get("proof")));
    if (back !== proof) why = "What was written did not come back.";
  } catch (fault) {
    why = fault.message;
  }
  return { keeps: why === null, why, persistent: await persistent(), room: await room(), opensAlone: false };
}

async function persistent() {
  try {
    if (!navigator.storage?.persist) return null;
    return (await navigator.storage.persisted()) || (await navigator.storage.persist());
  } catch {
    return null;
  }
}

async function room() {
  try {
    const { quota, usage } = await navigator.storage.estimate();
    return quota - usage;
  } catch {
    return null;
  }
}
