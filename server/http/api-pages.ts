import type { FastifyPluginAsync } from 'fastify';
import type { OpenAPIV3_1 } from 'openapi-types';
import { REASON_CODES, type ReasonCode, statusOfReason } from '../reasons.js';
import { titleOfStatus, wordReason } from '../words/en/reasons.js';
import { type CallView, callsOf } from './api-sheet.js';
import type { House } from './house.js';
import { refused } from './refused.js';
import { sendSheet } from './sheet.js';

/** The API and its reasons, to read. */
export const apiPages: FastifyPluginAsync<House> = async (pages, house) => {
  let calls: readonly CallView[] | undefined;

  pages.get('/api', { config: { open: true } }, (request, reply) => {
    calls ??= callsOf(pages.swagger() as OpenAPIV3_1.Document);
    return sendSheet(request, reply, house, 'api/calls', { title: 'API' }, { calls });
  });

  pages.get('/problems', { config: { open: true } }, (request, reply) =>
    sendSheet(
      request,
      reply,
      house,
      'api/problems',
      { title: 'Reasons', kicker: 'Why something is refused' },
      { reasons: REASON_CODES.map(reasonRow) },
    ),
  );

  pages.get<{ Params: { code: string } }>('/problems/:code', { config: { open: true } }, (request, reply) => {
    const code = REASON_CODES.find((known) => known === request.params.code);
    if (code === undefined) throw refused('not-found', { figures: { what: 'reason of that name' } });
    return sendSheet(
      request,
      reply,
      house,
      'api/problem',
      { title: code, kicker: 'Why something is refused' },
      reasonRow(code),
    );
  });
};

function reasonRow(code: ReasonCode) {
  const status = statusOfReason(code);
  return { code, status, statusTitle: titleOfStatus(status), ...wordReason({ code }) };
}
