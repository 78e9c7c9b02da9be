/** Text as bytes. Neither Node 20 nor the pure part has a decoder of its own. */

/** The base 64 alphabet (RFC 4648, table 1). */
export const SIGNS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** The bytes of text of six bits a sign, without the padding at its end. */
export function bytesOf(text: string): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(Math.floor((text.length * 3) / 4));
  for (let i = 0, at = 0; i < text.length; i += 4, at += 3) {
    let four = 0;
    for (let k = i; k < i + 4; k++) four = (four << 6) | Math.max(0, SIGNS.indexOf(text[k] ?? 'A'));
    for (let k = 0; k < 3 && at + k < bytes.length; k++) bytes[at + k] = (four >> (16 - 8 * k)) & 255;
  }
  return bytes;
}
