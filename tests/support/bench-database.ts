import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Database, openDatabase } from '../../server/database/database.js';
import { startEmbedded } from '../../server/database/embedded/start.js';
import { migrate } from '../../server/database/migrate.js';

/** Runs a benchmark on an embedded database of its own, as durable as the service's, and clears it away. */
export async function withBenchDatabase(
  work: (database: Database, databaseUrl: string) => Promise<void>,
): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), 'platenshare-bench-'));
  const embedded = await startEmbedded(folder, (error) => {
    throw error;
  });
  try {
    await migrate(embedded.databaseUrl);
    const database = await openDatabase(embedded.databaseUrl, () => {});
    try {
      await work(database, embedded.databaseUrl);
    } finally {
      await database.close();
    }
  } finally {
    await embedded.stop();
    await rm(folder, { recursive: true, force: true });
  }
}
