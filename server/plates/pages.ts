import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { FastifyPluginAsync, FastifyRequest } from 'fastify';
import { DRAWING_BODY_BYTES_MAX } from '../http/dxf-text.js';
import { limitSignedOut } from '../http/rate-limit.js';
import { takesFiles } from '../http/uploads.js';
import { mountedBolster } from '../press/store.js';
import { PROJECT_FOLDER } from '../project-folder.js';
import { SAMPLES } from '../words/en/plates.js';
import { sendCheck } from './check-sheet.js';
import type { CheckingHouse } from './checking-house.js';
import { showComparison } from './comparison/page.js';
import { damagePages } from './damage/pages.js';
import { postPlate, postSignInAndKeep } from './keep-page.js';
import { libraryPages } from './library/pages.js';
import { photographPages } from './photographs/pages.js';
import { drawingOfForm, formValues } from './plate-form.js';
import { getDrawing, postName, postRevision, showPlate } from './plate-pages.js';
import { showPlates } from './plates-page.js';
import { postOwner, postRack, postRetired, postSharing } from './rack-pages.js';
import { submissionPages } from './submission/pages.js';
import type { DrawingFile } from './uploaded-drawing.js';

/** Before cutting metal, for anyone; plates, for their owners. */
export const platePages: FastifyPluginAsync<CheckingHouse> = async (pages, house) => {
  const forStrangersToo = {
    config: { open: true, ...takesFiles() },
    bodyLimit: DRAWING_BODY_BYTES_MAX,
    onRequest: limitSignedOut(house),
  };
  const mounted = async () => (await mountedBolster(house.database))?.id ?? '';

  pages.get('/check', { config: { open: true } }, async (request, reply) => {
    const sample = await sampleAsked(request);
    if (sample !== undefined) await limitSignedOut(house)(request);
    return sendCheck(request, reply, house, { values: formValues({}, await mounted()), drawing: sample });
  });

  pages.post('/check', forStrangersToo, async (request, reply) => {
    const values = formValues(request.body, await mounted());
    return sendCheck(request, reply, house, { values, drawing: await drawingOfForm(request), errors: {} });
  });

  pages.get('/plates', (request, reply) => showPlates(request, reply, house));
  pages.post('/plates', forStrangersToo, (request, reply) => postPlate(request, reply, house));
  pages.post('/plates/sign-in', forStrangersToo, (request, reply) =>
    postSignInAndKeep(pages, request, reply, house),
  );
  await pages.register(submissionPages, house);
  pages.get('/plates/:id', (request, reply) => showPlate(request, reply, house));
  pages.post('/plates/:id/name', (request, reply) => postName(request, reply, house));
  pages.post('/plates/:id/sharing', (request, reply) => postSharing(request, reply, house));
  pages.post('/plates/:id/rack', (request, reply) => postRack(request, reply, house));
  pages.post('/plates/:id/owner', (request, reply) => postOwner(request, reply, house));
  pages.post('/plates/:id/retire', (request, reply) => postRetired(request, reply, house));
  pages.get('/plates/:id/compare', (request, reply) => showComparison(request, reply, house));
  await pages.register(photographPages, house);
  await pages.register(libraryPages, house);
  await pages.register(damagePages, house);
  pages.post(
    '/plates/:id/revisions',
    { config: takesFiles(), bodyLimit: DRAWING_BODY_BYTES_MAX },
    (request, reply) => postRevision(request, reply, house),
  );
  pages.get('/plates/:id/revisions/:revision/drawing', (request, reply) => getDrawing(request, reply, house));
};

/** The sample drawing that the address names, if it names one of ours. */
async function sampleAsked(request: FastifyRequest): Promise<DrawingFile | undefined> {
  const { sample } = request.query as { readonly sample?: unknown };
  if (typeof sample !== 'string' || !Object.hasOwn(SAMPLES, sample)) return undefined;
  const fileName = `${sample}.dxf`;
  return { bytes: await readFile(join(PROJECT_FOLDER, 'public', 'samples', fileName)), fileName };
}
