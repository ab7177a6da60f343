// Everything on this phone as text, or as a file that can be put back here or on another phone. Ids travel
// with it, so what the office has already is not doubled.

const FORMAT = "gutterance-capture-1";

/** The lines of a job as text, one a line; those taken back are left out. */
export function asText(entries) {
  const gone = new Set(entries.filter(({ kind }) => kind === "take-back").map(({ line }) => line));
  const lines = entries.filter(({ kind, id }) => kind === "line" && !gone.has(id));
  return lines.map(({ text }) => `${text}\n`).join("");
}

/** Every entry, with receipts, drafts and photos, as a Blob in JSON. */
export async function asFile({ outbox, drafts, jobs, job = null }) {
  const entries = await outbox.entries(job);
  const titles = await jobs.all();
  const parts = [
    `{"format":"${FORMAT}",`,
    `"jobs":${JSON.stringify(titles.filter(({ id }) => job === null || id === job))},\n`,
    `"drafts":${JSON.stringify((await drafts.all()).filter((one) => job === null || one.job === job))},\n`,
    `"entries":[${entries.map((entry) => JSON.stringify(entry)).join(",\n")}],\n"photos":{`,
  ];
  const photos = entries.filter(({ kind }) => kind === "photo");
  for (const [at, { id }] of photos.entries()) {
    parts.push(`${at ? ",\n" : ""}"${id}":"${base64(new Uint8Array(await outbox.photoBytes(id)))}"`);
  }
  return new Blob([...parts, "}}\n"], { type: "application/json" });
}

/** Puts a file's entries back; `{count, jobs}`. A file that is none of ours is refused in words. */
export async function putBackFile(text, { outbox, jobs }) {
  const file = parsed(text);
  const bytes = new Map(Object.entries(file.photos).map(([id, coded]) => [id, bytesOf(coded).buffer]));
  for (const { id, title } of file.jobs) await jobs.remember(id, title);
  return { count: await outbox.putBack(file.entries, bytes, file.drafts ?? []), jobs: file.jobs };
}

function parsed(text) {
  let file;
  try {
    file = JSON.parse(text);
  } catch {
    throw new Error("This is no file that a phone's capture page wrote.");
  }
  if (file?.format !== FORMAT || !Array.isArray(file.entries) || !Array.isArray(file.jobs)) {
    throw new Error("This is no file that a phone's capture page wrote.");
  }
  return file;
}

function base64(bytes) {
  let binary = "";
  for (let at = 0; at < bytes.length; at += 0x8000) {
    binary += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  }
  return btoa(binary);
}

function bytesOf(coded) {
  return Uint8Array.from(atob(coded), (one) => one.charCodeAt(0));
}
