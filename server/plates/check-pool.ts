import { join } from 'node:path';
import workerpool from 'workerpool';
import type { MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import { PROJECT_FOLDER } from '../project-folder.js';
import { Refusal, refuse } from '../reasons.js';
import type { Outcome } from './check-drawing.js';
import type { TaskName } from './check-worker.js';
import type { CheckAnswer, Checks } from './checking-house.js';

/** Workers run compiled code, in tests too: a process of its own cannot load TypeScript. */
const WORKER_FILE = join(PROJECT_FOLDER, 'dist', 'server', 'plates', 'check-worker.js');

/** A drawing read alone is on no bolster: a feed drawn as a point gets this sprue, mm. Common practice, no source. */
const USUAL_SPRUE_DIAMETER_MM = 3.5;

const WORKER_MEMORY_MIB = 256;

/** Drawings waiting per worker before the next is told that the service is busy. */
const QUEUE_PER_WORKER = 16;

/** A worker that ran out of time has nothing to tidy up: it is ended this soon. */
const FAREWELL_MS = 50;

export interface CheckPoolOptions {
  readonly workers: number;
  /** How long one drawing may be worked on, waiting not counted. */
  readonly timeoutMs: number;
  readonly memoryMib?: number;
  readonly queueMax?: number;
}

export interface CheckPool extends Checks {
  /** Drops what waits and ends the workers; what was asked is answered `service-busy`. */
  readonly close: () => Promise<void>;
}

/**
 * Reads and checks strangers' drawings in processes of their own. A drawing that burns too much time or memory costs
 * its worker, which is replaced, and is answered `check-took-too-long`; with too many waiting, `service-busy`.
 *
 * Processes and not threads: a thread that runs over its heap limit inside one call of the engine (splitting a
 * long text, growing an array) took the whole service down with it. They get nothing of our environment.
 */
export function createCheckPool({ workers, timeoutMs, memoryMib, queueMax }: CheckPoolOptions): CheckPool {
  const pool = workerpool.pool(WORKER_FILE, {
    workerType: 'process',
    minWorkers: workers,
    maxWorkers: workers,
    workerTerminateTimeout: FAREWELL_MS,
    forkOpts: {
      execArgv: [`--max-old-space-size=${memoryMib ?? WORKER_MEMORY_MIB}`],
      serialization: 'advanced',
      env: {},
    },
  });
  const waitingMax = queueMax ?? workers * QUEUE_PER_WORKER;
  let closing = false;

  async function run<Value>(task: TaskName, parameters: readonly unknown[]): Promise<Value | Refusal> {
    if (closing || pool.stats().pendingTasks >= waitingMax) return refuse('service-busy');
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
    measure: (dxf) => run<MeasuredDrawing>('measure', [dxf, USUAL_SPRUE_DIAMETER_MM]),
    check: (question) => run<CheckAnswer>('check', [question]),
    close: async () => {
      closing = true;
      await pool.terminate(true);
    },
  };
}

function isWorkerLost(error: unknown): boolean {
  return error instanceof workerpool.Promise.TimeoutError || error instanceof workerpool.TerminateError;
}
