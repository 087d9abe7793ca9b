import { Agent, request as requestOf } from 'node:http';
import { isMainThread, parentPort, Worker } from 'node:worker_threads';

/** Requests to send over kept connections, as many at a time as there are connections. */
export interface Load {
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly connections: number;
  readonly requests: number;
  /** Sent by POST as JSON; without it, GET. */
  readonly body?: string;
}

export interface LoadDone {
  readonly perSecond: number;
  /** Length of one answer, bytes. */
  readonly bytes: number;
  /** How long each request took from asking to the answer's last byte, ms. */
  readonly timesMs: readonly number[];
}

/** A client in a thread of its own, so that asking does not take the time of answering. */
export function loadClient() {
  const worker = new Worker(new URL(import.meta.url));
  return {
    run: (load: Load) =>
      new Promise<LoadDone>((done, failed) => {
        worker.once('message', (answer: LoadDone | { readonly failed: string }) =>
          'failed' in answer ? failed(new Error(answer.failed)) : done(answer),
        );
        worker.postMessage(load);
      }),
    close: () => worker.terminate(),
  };
}

async function sendAll(load: Load): Promise<LoadDone> {
  const agent = new Agent({ keepAlive: true, maxSockets: load.connections });
  const timesMs: number[] = [];
  let left = load.requests;
  let bytes = 0;
  const began = performance.now();
  await Promise.all(
    Array.from({ length: load.connections }, async () => {
      while (left-- > 0) {
        const asked = performance.now();
        bytes = await sendOne(load, agent);
        timesMs.push(performance.now() - asked);
      }
    }),
  );
  const perSecond = (load.requests / (performance.now() - began)) * 1000;
  agent.destroy();
  return { perSecond, bytes, timesMs };
}

function sendOne({ url, headers, body }: Load, agent: Agent): Promise<number> {
  return new Promise((done, failed) => {
    const posted = body === undefined ? {} : { 'content-type': 'application/json' };
    const method = body === undefined ? 'GET' : 'POST';
    const request = requestOf(url, { agent, method, headers: { ...headers, ...posted } }, (reply) => {
      let bytes = 0;
      reply.on('data', (part: Buffer) => {
        bytes += part.length;
      });
      reply.on('end', () =>
        reply.statusCode === 200 ? done(bytes) : failed(new Error(`Answered ${reply.statusCode}.`)),
      );
    });
    request.on('error', failed);
    request.end(body);
  });
}

if (!isMainThread) {
  parentPort?.on('message', (load: Load) => {
    sendAll(load).then(
      (done) => parentPort?.postMessage(done),
      (error: Error) => parentPort?.postMessage({ failed: error.message }),
    );
  });
}
