import sharp from 'sharp';
import { accept } from '../../server/http/refused.js';
import {
  type DevelopedPhotograph,
  developPhotograph,
} from '../../server/plates/photographs/develop-photograph.js';

const WIDTH_PX = 960;
const HEIGHT_PX = 720;

type Tone = readonly [number, number, number];

const BENCH: Tone = [112, 104, 94];
const METAL: Tone = [188, 192, 195];
const POCKET: Tone = [138, 143, 148];
const HOLE: Tone = [58, 60, 62];

const SCREWS = [
  [230, 200],
  [730, 200],
  [230, 520],
  [730, 520],
] as const;

/** Stands for a photograph at the yard: a plate with two pockets on a bench, drawn point by point. Nothing in it is real. */
export async function drawnPhotograph(): Promise<DevelopedPhotograph> {
  const points = Buffer.alloc(WIDTH_PX * HEIGHT_PX * 3);
  for (let y = 0; y < HEIGHT_PX; y++) {
    for (let x = 0; x < WIDTH_PX; x++) points.set(toneAt(x, y), 3 * (y * WIDTH_PX + x));
  }
  const raw = { width: WIDTH_PX, height: HEIGHT_PX, channels: 3 } as const;
  return accept(await developPhotograph(await sharp(points, { raw }).png().toBuffer()));
}

function toneAt(x: number, y: number): Tone {
  const light = 0.86 + (0.28 * (WIDTH_PX - x + HEIGHT_PX - y)) / (WIDTH_PX + HEIGHT_PX);
  const tone = surfaceAt(x, y);
  const grain = tone === METAL ? 5 * Math.sin(y * 1.9) : tone === BENCH ? 6 * Math.sin(y / 9 + x / 90) : 0;
  return [tone[0] * light + grain, tone[1] * light + grain, tone[2] * light + grain];
}

function surfaceAt(x: number, y: number): Tone {
  if (Math.abs(x - 480) > 330 || Math.abs(y - 360) > 230) return BENCH;
  if (SCREWS.some(([atX, atY]) => Math.hypot(x - atX, y - atY) < 24)) return HOLE;
  const inPocket = Math.abs(Math.abs(x - 480) - 140) < 70 && Math.abs(y - 360) < 110;
  const inRunner = Math.abs(y - 360) < 12 && Math.abs(x - 480) < 75;
  const inFeed = Math.hypot(x - 480, y - 360) < 22;
  return inPocket || inRunner || inFeed ? POCKET : METAL;
}
