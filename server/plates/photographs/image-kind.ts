/** Kinds of image that are taken as photographs; nothing else is given to the image library. */
export type ImageKind = 'jpeg' | 'png' | 'webp';

/**
 * What kind of image these bytes begin like, or nothing. Signatures: ISO/IEC 10918-1 B.1.1.3 (JPEG), W3C PNG
 * (third edition) 5.2, RFC 9649 2.4 (WebP).
 */
export function imageKindOf(bytes: Uint8Array): ImageKind | undefined {
  if (isAt(bytes, 0, '\xff\xd8\xff')) return 'jpeg';
  if (isAt(bytes, 0, '\x89PNG\r\n\x1a\n')) return 'png';
  if (isAt(bytes, 0, 'RIFF') && isAt(bytes, 8, 'WEBP')) return 'webp';
  return undefined;
}

/** Length of a PNG's signature, and of the length and type before, and the check after, each of its chunks. */
const PNG_SIGNATURE = 8;
const PNG_CHUNK_HEAD = 8;
const PNG_CHUNK_CHECK = 4;

/**
 * Whether a PNG is an animation: a chunk `acTL` before its first `IDAT` (W3C PNG, third edition, 11.3.6.1). The
 * image library would take the first picture of it and say nothing.
 */
export function isAnimatedPng(bytes: Uint8Array): boolean {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = PNG_SIGNATURE;
  while (at + PNG_CHUNK_HEAD <= bytes.length) {
    if (isAt(bytes, at + 4, 'acTL')) return true;
    if (isAt(bytes, at + 4, 'IDAT')) return false;
    at += PNG_CHUNK_HEAD + view.getUint32(at) + PNG_CHUNK_CHECK;
  }
  return false;
}

function isAt(bytes: Uint8Array, at: number, text: string): boolean {
  return [...text].every((character, i) => bytes[at + i] === character.charCodeAt(0));
}
