import { promisify } from 'node:util';
import { gunzip, gzip } from 'node:zlib';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { accept, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { MEMBER_FORM_ERRORS } from '../words/en/members.js';
import { importMembers, lookAtTable } from './import-members.js';
import { linkAddress } from './link-address.js';
import { linksTable } from './links-table.js';
import { type MemberTable, TABLE_BYTES_MAX } from './member-table.js';
import { mayAtAll } from './permissions.js';
import { toldFault } from './told-fault.js';

/** The table, gzipped, from the sheet that looked at it to the one that invites. */
const CARRIED_BYTES_MAX = 2 * 1024 * 1024;

/** More lines than this are counted, not shown. */
const SHOWN_MAX = 200;

/** Inviting many from a table: look at it first, then invite and take the links along. */
export const importPages: FastifyPluginAsync<House> = async (pages, house) => {
  pages.get('/members/import', async (request, reply) => showImport(request, reply, house));

  pages.post('/members/import', async (request, reply) => {
    const { table } = (request.body ?? {}) as { readonly table?: unknown };
    if (!(table instanceof Uint8Array) || table.byteLength === 0) {
      const errorSummary = summaryOfErrors({ table: MEMBER_FORM_ERRORS.table });
      return showImport(request, reply.code(422), house, errorSummary);
    }
    const seen = await lookAtTable(house.database, actorOf(request), table);
    if (seen instanceof Refusal) {
      return showImport(request, reply.code(seen.status), house, summaryOfRefusal(seen));
    }
    const carried = (await promisify(gzip)(table)).toString('base64url');
    return sendSheet(
      request,
      reply,
      house,
      'members/import-seen',
      { title: 'What is in the table', kicker: 'Members', current: 'members' },
      { carried, ...seenLines(seen) },
    );
  });

  pages.post('/members/import/links', { bodyLimit: CARRIED_BYTES_MAX }, async (request, reply) => {
    const { table } = (request.body ?? {}) as { readonly table?: unknown };
    const bytes = await carriedTable(table);
    if (bytes === undefined) throw refused('body-not-understood');
    const actor = actorOf(request);
    const { invited } = accept(
      await transact(house.database, (tx) =>
        importMembers({ actor, now: house.now(), tx, stewardsAt: house.stewardsAt }, bytes),
      ),
    );
    return reply
      .type('text/csv; charset=utf-8')
      .header('cache-control', 'no-store')
      .header('content-disposition', 'attachment; filename="invitations.csv"')
      .send(linksTable(invited, (path) => linkAddress(request, house, path)));
  });
};

async function carriedTable(carried: unknown): Promise<Uint8Array | undefined> {
  if (typeof carried !== 'string' || carried === '') return undefined;
  return promisify<Uint8Array, object, Buffer>(gunzip)(Buffer.from(carried, 'base64url'), {
    maxOutputLength: TABLE_BYTES_MAX,
  }).catch(() => undefined);
}

function seenLines({ lines, faults }: MemberTable) {
  return {
    count: lines.length,
    faultCount: faults.length,
    lines: lines.slice(0, SHOWN_MAX),
    moreLines: Math.max(0, lines.length - SHOWN_MAX),
    faults: faults.slice(0, SHOWN_MAX).map(toldFault),
    moreFaults: Math.max(0, faults.length - SHOWN_MAX),
  };
}

async function showImport(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  errorSummary?: ErrorSummaryView,
) {
  if (!mayAtAll(actorOf(request), 'member-import')) throw refused('not-found');
  return sendSheet(
    request,
    reply,
    house,
    'members/import',
    {
      title: 'Invite many from a table',
      kicker: 'Members',
      current: 'members',
      ...(errorSummary && { errorSummary }),
    },
    {},
  );
}
