import { crc32, deflateSync } from 'node:zlib';
import sharp, { type Sharp } from 'sharp';

interface Drawn {
  readonly widthPx?: number;
  readonly heightPx?: number;
}

/** A picture of two halves, left dark and right light, so that turning it shows. */
function halves({ widthPx = 400, heightPx = 300 }: Drawn = {}): Sharp {
  const dark = {
    create: { width: widthPx / 2, height: heightPx, channels: 3 as const, background: '#203040' },
  };
  return sharp({
    create: { width: widthPx, height: heightPx, channels: 3, background: '#e0e8f0' },
  }).composite([{ input: dark, left: 0, top: 0 }]);
}

/** Where the camera says that it stood; a town that is not the makerspace's. */
const GPS = {
  IFD0: { Make: 'Gullwing camera', Artist: 'Somebody of the Yard' },
  IFD3: {
    GPSLatitudeRef: 'N',
    GPSLatitude: '52/1 30/1 0/1',
    GPSLongitudeRef: 'E',
    GPSLongitude: '13/1 22/1 0/1',
  },
};

/** A JPEG as a telephone sends it: lying on its side, with where and by whom it was taken. */
export async function cameraJpeg(drawn: Drawn = {}): Promise<Buffer> {
  return halves(drawn).withExif(GPS).withMetadata({ orientation: 6 }).jpeg().toBuffer();
}

export async function plainPng(drawn: Drawn = {}): Promise<Buffer> {
  return halves(drawn).png().toBuffer();
}

export async function plainWebp(drawn: Drawn = {}): Promise<Buffer> {
  return halves(drawn).webp().toBuffer();
}

/** A chunk of a PNG: length, type, data, check (W3C PNG, third edition, 5.3). */
function chunk(type: string, data: Buffer): Buffer {
  const typed = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const length = Buffer.alloc(4);
  const check = Buffer.alloc(4);
  length.writeUInt32BE(data.length);
  check.writeUInt32BE(crc32(typed));
  return Buffer.concat([length, typed, check]);
}

/** A PNG of a few hundred kilobytes that unpacks to as many pixels as it says. */
export function bombPng(sidePx: number): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(sidePx, 0);
  head.writeUInt32BE(sidePx, 4);
  // One bit a pixel, grey.
  head.set([1, 0, 0, 0, 0], 8);
  const lines = Buffer.alloc((Math.ceil(sidePx / 8) + 1) * sidePx);
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(lines, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** A PNG that says it is an animation of two pictures (W3C PNG, third edition, 11.3.6.1). */
export async function animatedPng(): Promise<Buffer> {
  const still = await plainPng({ widthPx: 40, heightPx: 40 });
  const afterHead = 8 + 25;
  const control = Buffer.alloc(8);
  control.writeUInt32BE(2, 0);
  return Buffer.concat([still.subarray(0, afterHead), chunk('acTL', control), still.subarray(afterHead)]);
}

export async function animatedWebp(): Promise<Buffer> {
  const frame = { width: 40, height: 40, channels: 3 as const };
  const two = Buffer.concat([Buffer.alloc(4800, 10), Buffer.alloc(4800, 200)]);
  return sharp(two, { raw: { ...frame, height: 80, pageHeight: 40 } })
    .webp({ loop: 0, delay: [100, 100] })
    .toBuffer();
}
