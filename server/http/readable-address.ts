import { API_PREFIX } from './api.js';

/**
 * The address as it came, unless it cannot be decoded: then one that is not there, in the same world, so that
 * the answer has its form and all its headers.
 */
export function readableAddress(address: string): string {
  if (!address.includes('%')) return address;
  try {
    decodeURIComponent(address.split('?')[0] ?? '');
    return address;
  } catch {
    return address.startsWith(`${API_PREFIX}/`) ? `${API_PREFIX}/unreadable` : '/unreadable';
  }
}
