import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import type { House } from '../http/house.js';
import { postAnew, showAnew } from './anew-pages.js';
import { postCard, showCard, showVerify, showVerifyTyped } from './card-pages.js';
import { postDeclaration, showDeclaration } from './declaration-pages.js';
import { postEdit, postNew, showEdit, showNew } from './edit-pages.js';
import { postRevoke, showHistory, showRevoke } from './history-pages.js';
import { postWithdraw, postWitness, showInduction, showInductions } from './induction-pages.js';
import { postPart, showPart } from './part-page.js';
import { postSignOff, showWaiting, showWitness } from './witness-pages.js';

type Page = (request: FastifyRequest, reply: FastifyReply, house: House) => Promise<FastifyReply>;

const PAGES: { readonly [path: string]: readonly [Page | null, Page | null] } = {
  '/inductions': [showInductions, null],
  '/inductions/card': [showCard, postCard],
  '/inductions/declaration': [showDeclaration, postDeclaration],
  '/inductions/declare-anew': [showAnew, postAnew],
  '/inductions/history/:id': [showHistory, null],
  '/inductions/new': [showNew, postNew],
  '/inductions/sign-offs/:id/revoke': [showRevoke, postRevoke],
  '/inductions/witness': [showWaiting, null],
  '/inductions/witness/:id': [showWitness, postSignOff],
  '/inductions/:competence': [showInduction, null],
  '/inductions/:competence/edit': [showEdit, postEdit],
  '/inductions/:competence/witness': [null, postWitness],
  '/inductions/:competence/withdraw': [null, postWithdraw],
  '/inductions/:competence/:part': [showPart, postPart],
  '/verify': [showVerifyTyped, null],
  '/verify/:code': [showVerify, null],
};

/** Reading and answering, witnessing and revoking, writing; each address with what it shows and what it takes. */
export const inductionPages: FastifyPluginAsync<House> = async (pages, house) => {
  for (const [path, [show, take]] of Object.entries(PAGES)) {
    if (show !== null) pages.get(path, (request, reply) => show(request, reply, house));
    if (take !== null) pages.post(path, (request, reply) => take(request, reply, house));
  }
};
