import { join } from 'node:path';
import workerpool from 'workerpool';
import type { BolsterDrawing } from '../engineering/drawing/read-bolster-drawing.js';
import type { Asker } from '../http/asker.js';
import { PROJECT_FOLDER } from '../project-folder.js';
import { Refusal, refuse } from '../reasons.js';
import type { Outcome } from './check-drawing.js';
import type { TaskName } from './check-worker.js';
import type { CheckAnswer, Checks, DifferenceAnswer, DrawingSketched, ReportMade } from './checking-house.js';
import { createTurns } from './turns.js';

/** Workers run compiled code, in tests too: a process of its own cannot load TypeScript. */
const WORKER_FILE = join(PROJECT_FOLDER, 'dist', 'server', 'plates', 'check-worker.js');

const WORKER_MEMORY_MIB = 256;

/** Drawings waiting per worker before the next is told that the service is busy. */
const QUEUE_PER_WORKER = 16;

/** A worker that ran out of time has nothing to tidy up: it is ended this soon. */
const FAREWELL_MS = 50;

export interface CheckPoolOptions {
  /** How many drawings are worked on at once; one worker more is kept for members while strangers have these. */
  readonly workers: number;
  /** How long one drawing may be worked on, waiting not counted. */
  readonly timeoutMs: number;
  readonly memoryMib?: number;
  readonly queueMax?: number;
  /** Told after each piece of work for whom it was done and how long it took; the answer waits for it. */
  readonly onDone?: (asker: Asker, tookMs: number) => Promise<void>;
}

export interface CheckPool extends Checks {
  /** Drops what waits and ends the workers; what was asked is answered `service-busy`. */
  readonly close: () => Promise<void>;
}

/**
 * Reads and checks strangers' drawings in processes of their own, in turns. A drawing that burns too much time or
 * memory costs its worker, which is replaced, and is answered `check-took-too-long`; with too many waiting,
 * `service-busy`.
 *
 * Processes and not threads: a thread that runs over its heap limit inside one call of the engine (splitting a
 * long text, growing an array) took the whole service down with it. They get nothing of our environment.
 */
export function createCheckPool(options: CheckPoolOptions): CheckPool {
  const { workers, timeoutMs, memoryMib = WORKER_MEMORY_MIB, onDone } = options;
  const places = workers + 1;
  const pool = workerpool.pool(WORKER_FILE, {
    workerType: 'process',
    minWorkers: places,
    maxWorkers: places,
    workerTerminateTimeout: FAREWELL_MS,
    forkOpts: { execArgv: [`--max-old-space-size=${memoryMib}`], serialization: 'advanced', env: {} },
  });
  const turns = createTurns({
    places,
    placesForStrangers: workers,
    placesForOne: Math.max(1, workers - 1),
    waitingMax: options.queueMax ?? workers * QUEUE_PER_WORKER,
  });
  let closing = false;

  async function run<Value>(
    asker: Asker,
    task: TaskName,
    parameters: readonly unknown[],
  ): Promise<Value | Refusal> {
    const endTurn = await turns.take(asker);
    if (endTurn === undefined) return refuse('service-busy');
    const began = performance.now();
    try {
      return await work<Value>(task, parameters);
    } finally {
      endTurn();
      await onDone?.(asker, performance.now() - began);
    }
  }

  async function work<Value>(task: TaskName, parameters: readonly unknown[]): Promise<Value | Refusal> {
    if (closing) return refuse('service-busy');
    try {
      const outcome: Outcome<Value> = await pool.exec(task, [...parameters]).timeout(timeoutMs);
      return 'refused' in outcome ? new Refusal(outcome.refused) : outcome.value;
    } catch (error) {
      if (closing) return refuse('service-busy');
      if (isWorkerLost(error)) return refuse('check-took-too-long');
      throw error;
    }
  }

  return {
    measure: (dxf, sprueDiameterMm, asker) => run<Uint8Array>(asker, 'measure', [dxf, sprueDiameterMm]),
    sketch: (dxf, sprueDiameterMm, asker) => run<DrawingSketched>(asker, 'sketch', [dxf, sprueDiameterMm]),
    bolster: (dxf, asker) => run<BolsterDrawing>(asker, 'bolster', [dxf]),
    check: (question, asker) => run<CheckAnswer>(asker, 'check', [question]),
    difference: (before, after, sprueDiameterMm, asker) =>
      run<DifferenceAnswer>(asker, 'difference', [before, after, sprueDiameterMm]),
    report: (question, bolster, asker) => run<ReportMade>(asker, 'report', [question, bolster]),
    close: async () => {
      closing = true;
      turns.letAllIn();
      await pool.terminate(true);
    },
  };
}

function isWorkerLost(error: unknown): boolean {
  return error instanceof workerpool.Promise.TimeoutError || error instanceof workerpool.TerminateError;
}
