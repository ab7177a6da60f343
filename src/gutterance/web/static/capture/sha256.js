// SHA-256 (FIPS 180-4, sections 5 and 6.2). The browser's own is absent on plain http, and a line must be
// hashed there too.

const PRIMES = firstPrimes(64);
const ROUND = Uint32Array.from(PRIMES, (prime) => rootBits(prime, 3));
const START = Uint32Array.from(PRIMES.slice(0, 8), (prime) => rootBits(prime, 2));
const AT_A_TIME = 1 << 20;

/** The SHA-256 of some bytes, as 64 hex digits. */
export function sha256(bytes) {
  const hash = Uint32Array.from(START);
  const whole = bytes.length - (bytes.length % 64);
  for (let at = 0; at < whole; at += 64) mix(hash, bytes, at);
  return ended(hash, bytes, whole);
}

/** The same for a photo: the page is let breathe after every mebibyte. */
export async function sha256Calmly(bytes) {
  const hash = Uint32Array.from(START);
  const whole = bytes.length - (bytes.length % 64);
  for (let at = 0; at < whole; at += 64) {
    mix(hash, bytes, at);
    if (at % AT_A_TIME === AT_A_TIME - 64) await new Promise((go) => setTimeout(go));
  }
  return ended(hash, bytes, whole);
}

/** The SHA-256 of a text's UTF-8 bytes. */
export function sha256OfText(text) {
  return sha256(new TextEncoder().encode(text));
}

function ended(hash, bytes, whole) {
  const rest = bytes.subarray(whole);
  const last = new Uint8Array(rest.length < 56 ? 64 : 128);
  last.set(rest);
  last[rest.length] = 0x80;
  const view = new DataView(last.buffer);
  view.setUint32(last.length - 8, Math.floor(bytes.length / 0x20000000));
  view.setUint32(last.length - 4, (bytes.length << 3) >>> 0);
  for (let at = 0; at < last.length; at += 64) mix(hash, last, at);
  return Array.from(hash, (word) => word.toString(16).padStart(8, "0")).join("");
}

function mix(hash, bytes, from) {
  const w = new Uint32Array(64);
  for (let t = 0, at = from; t < 16; t += 1, at += 4) {
    w[t] = (bytes[at] << 24) | (bytes[at + 1] << 16) | (bytes[at + 2] << 8) | bytes[at + 3];
  }
  for (let t = 16; t < 64; t += 1) {
    const low = turned(w[t - 15], 7) ^ turned(w[t - 15], 18) ^ (w[t - 15] >>> 3);
    const high = turned(w[t - 2], 17) ^ turned(w[t - 2], 19) ^ (w[t - 2] >>> 10);
    w[t] = w[t - 16] + low + w[t - 7] + high;
  }
  let [a, b, c, d, e, f, g, h] = hash;
  for (let t = 0; t < 64; t += 1) {
    const ofE = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25);
    const one = (h + ofE + ((e & f) ^ (~e & g)) + ROUND[t] + w[t]) | 0;
    const ofA = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22);
    const two = (ofA + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) | 0, c, b, a, (one + two) | 0];
  }
  [a, b, c, d, e, f, g, h].forEach((word, at) => {
    hash[at] += word;
  });
}

function turned(word, by) {
  return (word >>> by) | (word << (32 - by));
}

function firstPrimes(count) {
  const primes = [];
  for (let number = 2; primes.length < count; number += 1) {
    if (primes.every((prime) => number % prime !== 0)) primes.push(number);
  }
  return primes;
}

/** The first 32 bits after the point of a prime's square or cube root, exact: by whole numbers. */
function rootBits(prime, degree) {
  const power = BigInt(degree);
  const scaled = BigInt(prime) << (32n * power);
  let low = 0n;
  let high = BigInt(prime) << 32n;
  while (low < high) {
    const middle = (low + high + 1n) / 2n;
    if (middle ** power <= scaled) low = middle;
    else high = middle - 1n;
  }
  return Number(low & 0xffffffffn);
}
