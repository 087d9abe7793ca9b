import { hatch } from '../pictures/hatch.js';
import { box, path, svg } from '../pictures/svg.js';

const FRAME = { x: 0, y: 0, width: 28, height: 16 };

function swatch(content: string) {
  return svg({ frame: FRAME, className: 'ps-key__swatch', label: null }, content);
}

const whole = (className: string) => box(className, 0.75, 0.75, 27.25, 15.25);

/** The key below the week: what each kind of span looks like. */
export const WEEK_KEY = [
  { swatch: swatch(whole('ps-phase-run')), text: 'your own' },
  { swatch: swatch(whole('ps-span-other')), text: 'someone else' },
  { swatch: swatch(path('ps-hatch', hatch(0, 0, 28, 16, 8))), text: 'closed' },
  {
    swatch: swatch(whole('ps-span-out') + path('ps-span-cross', 'M.75.75 27.25 15.25M.75 15.25 27.25.75')),
    text: 'out of service',
  },
] as const;
