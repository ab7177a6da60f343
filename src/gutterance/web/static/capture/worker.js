// Keeps the shell of the capture page, so that it opens with no signal; only on https, or on the office's own
// machine, does a browser run this. It answers for the shell alone: what the API says, and every write, goes
// past it to the network untouched.
//
// The server writes VERSION and FILES before this text.

const SHELL = "/capture";
const CACHE = `gutterance-shell-${VERSION}`;

self.addEventListener("install", (event) => {
  event.waitUntil(
    caches
      .open(CACHE)
      .then((cache) => cache.addAll([SHELL, ...FILES].map((path) => new Request(path, { cache: "reload" }))))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => names.filter((name) => name.startsWith("gutterance-shell-") && name !== CACHE))
      .then((old) => Promise.all(old.map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  );
});

function isShellPage(pathname) {
  return pathname === SHELL || /^\/jobs\/[^/]+\/capture$/.test(pathname);
}

/** Whether one of our own asks: other pages of the office share the look, and get it from the network. */
function isAskedByShell(referrer) {
  if (!referrer) return false;
  const { pathname } = new URL(referrer);
  return isShellPage(pathname) || FILES.includes(pathname);
}

self.addEventListener("fetch", (event) => {
  const { method, url, referrer } = event.request;
  const { origin, pathname } = new URL(url);
  if (method !== "GET" || origin !== self.location.origin) return;
  const isShell = isShellPage(pathname);
  if (!isShell && !(FILES.includes(pathname) && isAskedByShell(referrer))) return;
  // The page and its modules come from one cache, so that they are always of one version.
  event.respondWith(
    caches.open(CACHE).then(async (cache) => (await cache.match(isShell ? SHELL : pathname)) ?? fetch(event.request)),
  );
});
