import fastifyHelmet from '@fastify/helmet';
import type { FastifyInstance } from 'fastify';
import type { Settings } from '../settings.js';
import { isHttps } from './cookies.js';

const YEAR_SECONDS = 31_536_000;

/** Headers of every answer: nothing from elsewhere, nothing inline, no framing, no guessing of types. */
export async function registerSecurityHeaders(app: FastifyInstance, settings: Settings): Promise<void> {
  await app.register(fastifyHelmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'self'"],
        scriptSrcAttr: ["'none'"],
        styleSrcAttr: ["'none'"],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
        objectSrc: ["'none'"],
        baseUri: ["'none'"],
      },
    },
    // Told only where people come by https: on plain http it would lock them out of a host that has no https.
    hsts: isHttps(settings) ? { maxAge: YEAR_SECONDS, includeSubDomains: true } : false,
    crossOriginOpenerPolicy: isHttps(settings) ? { policy: 'same-origin' } : false,
    originAgentCluster: isHttps(settings),
    // "no-referrer" would make browsers send "Origin: null" with our own forms.
    referrerPolicy: { policy: 'same-origin' },
    xFrameOptions: { action: 'deny' },
  });
}
