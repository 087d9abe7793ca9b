import type { FastifyRequest } from 'fastify';
import type { Settings } from '../settings.js';
import { refused } from './refused.js';

const SAFE_METHODS: ReadonlySet<string> = new Set(['GET', 'HEAD', 'OPTIONS']);

/** True for methods that change nothing. */
export function isSafe(request: FastifyRequest): boolean {
  return SAFE_METHODS.has(request.method);
}

/**
 * First layer against requests that another site makes a browser send: the browser itself says where the
 * request comes from. Plain http on a host name of the local network has no Sec-Fetch-Site, so the Origin is
 * held against our own address then; with neither header the request does not come from a browser's form.
 *
 * @throws Refused when a changing request is not from our own pages
 */
export function fromOurOwnPages(request: FastifyRequest, settings: Settings): void {
  if (isSafe(request)) return;
  const site = request.headers['sec-fetch-site'];
  const origin = request.headers.origin;
  if (site !== undefined && site !== 'same-origin' && site !== 'none') throw refused('form-not-ours');
  if (origin !== undefined && origin !== ownOrigin(request, settings)) throw refused('form-not-ours');
  if (site === undefined && origin === undefined) throw refused('form-not-ours');
}

/** The address people use: as set, else the one this request came to. */
export function ownOrigin(request: FastifyRequest, settings: Settings): string {
  return settings.publicUrl ?? `${request.protocol}://${request.host}`;
}
