import type { FastifyInstance, RouteOptions } from 'fastify';

/** One route of the house, as tests and the 405 answer need it. */
export interface BookedRoute {
  readonly method: string;
  /** With parameters as `:name`. */
  readonly url: string;
  readonly open: boolean;
}

declare module 'fastify' {
  interface FastifyInstance {
    readonly routeBook: readonly BookedRoute[];
  }
}

/** Keeps a list of every route that is added from here on. */
export function keepRouteBook(app: FastifyInstance): void {
  const book: BookedRoute[] = [];
  app.decorate('routeBook', book);
  app.addHook('onRoute', (route: RouteOptions) => {
    for (const method of [route.method].flat()) {
      book.push({ method, url: route.url, open: route.config?.open === true });
    }
  });
}

/** The methods that an address takes, for `Allow`; empty when there is nothing at it. */
export function methodsAt(book: readonly BookedRoute[], address: string): readonly string[] {
  const [path = '/'] = address.split('?');
  const methods = book.filter(({ url }) => isAt(url, path)).map(({ method }) => method);
  return [...new Set(methods)].sort();
}

function isAt(url: string, path: string): boolean {
  if (url.endsWith('*')) return path.startsWith(url.slice(0, -1));
  const wanted = url.split('/');
  const given = path.split('/');
  return (
    wanted.length === given.length &&
    wanted.every((part, i) => part === given[i] || (part.startsWith(':') && given[i] !== ''))
  );
}
