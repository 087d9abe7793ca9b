import type { CookieSerializeOptions } from '@fastify/cookie';
import type { Settings } from '../settings.js';

/** The cookies of the house. `__Host-` pins them to this very host and to https, where there is https. */
export interface CookieNames {
  readonly session: string;
  readonly csrf: string;
  readonly theme: string;
  readonly told: string;
}

export function isHttps(settings: Settings): boolean {
  return settings.publicUrl?.startsWith('https:') === true;
}

export function cookieNames(settings: Settings): CookieNames {
  const prefix = isHttps(settings) ? '__Host-' : '';
  return {
    session: `${prefix}ps-session`,
    csrf: `${prefix}ps-csrf`,
    theme: `${prefix}ps-theme`,
    told: `${prefix}ps-told`,
  };
}

/** Attributes of every cookie we set. */
export function cookieOptions(settings: Settings): CookieSerializeOptions & { path: string } {
  return { path: '/', httpOnly: true, sameSite: 'lax', secure: isHttps(settings) };
}
