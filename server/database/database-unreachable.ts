/** The server behind DATABASE_URL is not there or does not let us in; the message is for the operator. */
export class DatabaseUnreachable extends Error {
  override readonly name = 'DatabaseUnreachable';

  /** Names the address without its password. */
  constructor(databaseUrl: string, cause: unknown) {
    const { hostname, port, pathname, username } = new URL(databaseUrl);
    const said =
      cause instanceof Error ? cause.message || ('code' in cause ? String(cause.code) : cause.name) : cause;
    super(
      `The database ${decodeURIComponent(pathname.slice(1))} at ${hostname}:${port || 5432} cannot be opened as ` +
        `${decodeURIComponent(username) || 'the present user'}: ${said}. Check DATABASE_URL and that the server runs.`,
      { cause },
    );
  }
}
