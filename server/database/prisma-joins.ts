import { AsyncLocalStorage } from 'node:async_hooks';
import { PrismaPg } from '@prisma/adapter-pg';
import type {
  IsolationLevel,
  SqlDriverAdapter,
  SqlDriverAdapterFactory,
  Transaction,
} from '@prisma/driver-adapter-utils';
import type pg from 'pg';
import { type Prisma, PrismaClient } from './generated/client.js';
import { statementName } from './statement-name.js';

/** Prisma's models inside a transaction that `transact` began. */
export type PrismaInTransaction = Prisma.TransactionClient;

const connectionToJoin = new AsyncLocalStorage<pg.PoolClient>();

/** Longer than any statement or idle time-out of the pool: PostgreSQL ends a slow transaction, not Prisma. */
const PRISMA_TIMEOUT_MS = 60_000;

/** A Prisma client on the process's own pool, able to join a transaction that is already open on a connection. */
export function prismaOn(pool: pg.Pool): PrismaClient {
  return new PrismaClient({ adapter: new JoiningAdapter(pool) });
}

/** `PrismaPg`, except that a transaction started under `connectionToJoin` neither begins, commits nor releases. */
class JoiningAdapter implements SqlDriverAdapterFactory {
  readonly provider = 'postgres';
  readonly adapterName = 'platenshare-pg';
  readonly #pool: pg.Pool;

  constructor(pool: pg.Pool) {
    this.#pool = pool;
  }

  async connect(): Promise<SqlDriverAdapter> {
    const options = { statementNameGenerator: ({ sql }: { sql: string }) => statementName(sql) as string };
    const adapter = await new PrismaPg(this.#pool, options).connect();
    const startOwn = adapter.startTransaction.bind(adapter);
    adapter.startTransaction = async (isolationLevel?: IsolationLevel) => {
      const client = connectionToJoin.getStore();
      return client === undefined ? startOwn(isolationLevel) : joinedTransaction(adapter, client);
    };
    return adapter;
  }
}

/** The adapter's own queries, sent over one connection whose transaction somebody else begins and ends. */
function joinedTransaction(adapter: SqlDriverAdapter, client: pg.PoolClient): Transaction {
  const onClient: SqlDriverAdapter = Object.create(adapter, { client: { value: client } });
  return {
    provider: adapter.provider,
    adapterName: adapter.adapterName,
    options: { usePhantomQuery: true },
    queryRaw: (query) => onClient.queryRaw(query),
    executeRaw: (query) => onClient.executeRaw(query),
    commit: async () => {},
    rollback: async () => {},
  };
}

/** Prisma's side of one transaction: opened when first asked for, closed before the commit or rollback. */
export class JoinedPrisma {
  readonly #prisma: PrismaClient;
  readonly #connection: pg.PoolClient;
  #opened: Promise<PrismaInTransaction> | undefined;
  #ended: Promise<void> | undefined;
  #end: () => void = () => {};

  constructor(prisma: PrismaClient, connection: pg.PoolClient) {
    this.#prisma = prisma;
    this.#connection = connection;
  }

  open(): Promise<PrismaInTransaction> {
    this.#opened ??= new Promise((opened, failed) => {
      const untilClosed = new Promise<void>((end) => {
        this.#end = end;
      });
      const work = (models: PrismaInTransaction) => {
        opened(models);
        return untilClosed;
      };
      const limits = { timeout: PRISMA_TIMEOUT_MS, maxWait: PRISMA_TIMEOUT_MS };
      this.#ended = connectionToJoin.run(this.#connection, () => this.#prisma.$transaction(work, limits));
      this.#ended.catch(failed);
    });
    return this.#opened;
  }

  async close(): Promise<void> {
    this.#end();
    await this.#ended;
  }
}
