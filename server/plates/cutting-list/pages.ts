import type { FastifyPluginAsync } from 'fastify';
import { actorOf } from '../../http/acting.js';
import { askerOf } from '../../http/asker.js';
import { DRAWING_BODY_BYTES_MAX } from '../../http/dxf-text.js';
import { limitSignedOut } from '../../http/rate-limit.js';
import { accept, refused } from '../../http/refused.js';
import { sendSheet } from '../../http/sheet.js';
import { mountedBolster } from '../../press/store.js';
import { Refusal } from '../../reasons.js';
import { findRulesAt } from '../../shop/store.js';
import { nameOfFile } from '../../words/en/plates.js';
import { momentText } from '../../words/en/times.js';
import { checkNow } from '../check-now.js';
import { sendCheck } from '../check-sheet.js';
import type { CheckingHouse } from '../checking-house.js';
import { drawingOfForm, factsOfForm, formValues, isDrawing } from '../plate-form.js';
import { polymerNamed } from '../polymer-named.js';
import { revisionParams } from '../schemas.js';
import { cuttingOfRevision } from './cutting-of-revision.js';
import { cuttingListView } from './view.js';

const TEMPLATE = 'cutting-list/cutting-list';
const KICKER = 'Cutting list for the workshop';

/** The cutting list on paper: of a kept revision, or before anything is kept. */
export const cuttingListPages: FastifyPluginAsync<CheckingHouse> = async (pages, house) => {
  const forStrangersToo = {
    config: { open: true },
    bodyLimit: DRAWING_BODY_BYTES_MAX,
    onRequest: limitSignedOut(house),
  };

  pages.get('/plates/:id/revisions/:revision/cutting-list', async (request, reply) => {
    const params = revisionParams.safeParse(request.params);
    if (!params.success) throw refused('not-found', { figures: { what: 'revision' } });
    const asked = { plateId: params.data.id, revision: params.data.revision };
    const { plate, revision, drawing, cutting, check } = accept(
      await cuttingOfRevision(house, actorOf(request), asked),
    );
    const rules = await findRulesAt(house.database, house.now());
    const words = {
      title: plate.name,
      kicker: KICKER,
      current: 'plates' as const,
      ...(rules && { place: rules.makerspaceName }),
      titleBlock: [
        { label: 'Sheet', value: `${plate.name}, revision ${revision.revision}` },
        { label: 'Drawing', value: revision.fileName },
        ...(rules ? [{ label: 'Drawn', value: momentText(house.now(), rules.timeZone) }] : []),
      ],
    };
    const back = { href: `/plates/${plate.id}?revision=${revision.revision}`, text: 'Back to the plate' };
    return sendSheet(request, reply, house, TEMPLATE, words, {
      ...cuttingListView(drawing, cutting, check.findings),
      back,
    });
  });

  pages.post('/check/cutting-list', forStrangersToo, async (request, reply) => {
    const values = formValues(request.body, (await mountedBolster(house.database))?.id ?? '');
    const drawing = await drawingOfForm(request);
    const facts = factsOfForm(values);
    const polymer = polymerNamed(values.polymer);
    const wrong = !isDrawing(drawing) || 'errors' in facts || polymer instanceof Refusal;
    if (wrong) return sendCheck(request, reply, house, { values, drawing, errors: {} });
    const wish = { dxf: drawing.bytes, facts, polymer, bolsterId: values.bolsterId };
    const done = await checkNow(house, wish, askerOf(request));
    if (done instanceof Refusal) return sendCheck(request, reply, house, { values, drawing, errors: {} });
    const rules = await findRulesAt(house.database, house.now());
    const words = {
      title: nameOfFile(drawing.fileName),
      kicker: KICKER,
      current: 'check' as const,
      ...(rules && { place: rules.makerspaceName }),
      titleBlock: [
        { label: 'Sheet', value: 'Not kept' },
        { label: 'Drawing', value: drawing.fileName },
        ...(rules ? [{ label: 'Drawn', value: momentText(house.now(), rules.timeZone) }] : []),
      ],
    };
    return sendSheet(
      request,
      reply,
      house,
      TEMPLATE,
      words,
      cuttingListView(done.drawing, done.cutting, done.check.findings),
    );
  });
};
