import sharp from 'sharp';
import { type Refusal, refuse } from '../../reasons.js';
import { imageKindOf, isAnimatedPng } from './image-kind.js';

/** A photograph drawn anew from what came: turned upright, small enough, JPEG, with nothing beside the picture. */
export interface DevelopedPhotograph {
  readonly whole: Uint8Array;
  readonly thumb: Uint8Array;
  /** Of the whole. */
  readonly widthPx: number;
  readonly heightPx: number;
}

/** A telephone's largest picture with room to spare. Common practice, no source. */
export const PHOTOGRAPH_BYTES_MAX = 12 * 1024 * 1024;

/** A little over the 48 to 50 megapixels of a telephone's camera. Common practice, no source. */
const PHOTOGRAPH_PIXELS_MAX = 52_000_000;

const WHOLE_SIDE_PX = 1600;
const THUMB_SIDE_PX = 320;

/** Of decoding and drawing one; an ordinary one takes a fifth of a second. */
const SECONDS_MAX = 10;

/** Photographs waiting for the one that is being drawn: an unpacked one takes some 150 MiB. */
const WAITING_MAX = 8;

// Whatever else the library can read it is never asked to.
sharp.block({ operation: ['VipsForeignLoad'] });
sharp.unblock({
  operation: ['VipsForeignLoadJpegBuffer', 'VipsForeignLoadPngBuffer', 'VipsForeignLoadWebpBuffer'],
});
sharp.cache(false);

let waiting = 0;
let last: Promise<unknown> = Promise.resolve();

/**
 * Draws a photograph anew, or says why it is none. Its size is read from its head and judged before a pixel is
 * unpacked. One after the other, off the request thread: do it with no transaction open.
 */
export async function developPhotograph(bytes: Uint8Array): Promise<DevelopedPhotograph | Refusal> {
  const wrong = await whatIsWrong(bytes);
  if (wrong !== undefined) return wrong;
  if (waiting >= WAITING_MAX) return refuse('service-busy');
  waiting += 1;
  const drawn = last.then(() => draw(bytes));
  last = drawn.catch(() => undefined);
  try {
    return await drawn;
  } catch {
    return refuse('photograph-not-read', { field: 'photograph' });
  } finally {
    waiting -= 1;
  }
}

async function whatIsWrong(bytes: Uint8Array): Promise<Refusal | undefined> {
  if (bytes.byteLength > PHOTOGRAPH_BYTES_MAX) return photographTooLarge();
  const kind = imageKindOf(bytes);
  if (kind === undefined) return refuse('photograph-not-read', { field: 'photograph' });
  const head = await sharp(bytes, { limitInputPixels: false })
    .metadata()
    .catch(() => undefined);
  if (head === undefined) return refuse('photograph-not-read', { field: 'photograph' });
  const { width, height, pages = 1 } = head;
  if (width * height > PHOTOGRAPH_PIXELS_MAX) {
    const figures = { megapixels: (width * height) / 1e6, limit: PHOTOGRAPH_PIXELS_MAX / 1e6 };
    return refuse('photograph-too-many-pixels', { field: 'photograph', figures });
  }
  if (pages > 1 || (kind === 'png' && isAnimatedPng(bytes))) {
    return refuse('photograph-moves', { field: 'photograph' });
  }
  return undefined;
}

/** The refusal of a photograph whose file is too large, read whole or not. */
export function photographTooLarge(): Refusal {
  const figures = { limitMib: PHOTOGRAPH_BYTES_MAX / 1024 / 1024 };
  return refuse('photograph-too-large', { field: 'photograph', figures });
}

async function draw(bytes: Uint8Array): Promise<DevelopedPhotograph> {
  const whole = await sharp(bytes, {
    autoOrient: true,
    failOn: 'error',
    limitInputPixels: PHOTOGRAPH_PIXELS_MAX,
  })
    .resize({ width: WHOLE_SIDE_PX, height: WHOLE_SIDE_PX, fit: 'inside', withoutEnlargement: true })
    .flatten({ background: '#ffffff' })
    .jpeg({ quality: 82 })
    .timeout({ seconds: SECONDS_MAX })
    .toBuffer({ resolveWithObject: true });
  const thumb = await sharp(whole.data)
    .resize({ width: THUMB_SIDE_PX, height: THUMB_SIDE_PX, fit: 'inside', withoutEnlargement: true })
    .jpeg({ quality: 75 })
    .toBuffer();
  return { whole: whole.data, thumb, widthPx: whole.info.width, heightPx: whole.info.height };
}
