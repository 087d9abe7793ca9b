import { randomUUID } from 'node:crypto';
import { gzipSync } from 'node:zlib';
import type { Action } from '../../../server/members/permissions.js';
import { bolsterOnWire } from '../../../server/press/views.js';
import { demoPress, keyedBolster } from '../gullwing.js';
import { sampleDxf, usualFacts } from '../plate-bodies.js';
import { TEST_PASSWORD } from '../sign-in.js';
import {
  BOLSTERS,
  BOOKINGS,
  CARDS,
  CLOSURES,
  DAMAGES,
  INVITATIONS,
  MEMBERS,
  NEAR_MISSES,
  NOTHING,
  NOTICES,
  OUTAGES,
  PHOTOGRAPHS,
  PLATES,
  RESIN_GRADES,
  ROLES_WISHED,
  RUNS,
  SIGN_OFFS,
  STACK_PARTS,
  type Thing,
  type Things,
  WITNESS_REQUESTS,
} from './things.js';

/** What a route asks of the permission table. */
export interface RouteRight {
  /** Left out: whoever is signed in may. */
  readonly asks?: Action;
  /** Who lacks this right as well finds nothing there; left out, everybody may know that it is there. */
  readonly seenBy?: Action;
  /** What it is tried on. */
  readonly things?: Things;
  /** A body that is understood: whether it is then done is for the rules. */
  readonly body?: (thing: Thing) => object;
  readonly query?: (thing: Thing) => string;
}

const named = ({ named: fields = {} }: Thing) => fields;
const reason = () => ({ reason: 'for the matrix' });
const span = { startsAt: '2070-01-01T12:00:00Z', endsAt: '2070-01-01T13:00:00Z' };
let invited = 0;
/** An address that no earlier try has left an invitation at. */
const newAddress = () => `matrix-${++invited}@gullwing.example`;

const hidden = (asks: Action): RouteRight => ({ asks, seenBy: asks });
const onMember = (asks: Action, body?: RouteRight['body']): RouteRight => ({
  asks,
  seenBy: 'member-see',
  things: MEMBERS,
  ...(body && { body }),
});
const onPlate = (asks: Action, body?: RouteRight['body']): RouteRight => ({
  asks,
  seenBy: 'plate-see',
  things: PLATES,
  ...(body && { body }),
});
const onBooking = (asks: Action, body?: RouteRight['body']): RouteRight => ({
  asks,
  seenBy: 'booking-see',
  things: BOOKINGS,
  ...(body && { body }),
});
const signOffs = (asks: Action, body?: RouteRight['body']): RouteRight => ({
  asks,
  seenBy: 'sign-off-see',
  things: SIGN_OFFS,
  ...(body && { body }),
});

const onRun = (asks: Action, body?: RouteRight['body']): RouteRight => ({
  asks,
  seenBy: 'booking-see-whole',
  things: RUNS,
  ...(body && { body }),
});
const onNearMiss = (asks: Action, body?: RouteRight['body']): RouteRight => ({
  asks,
  seenBy: 'near-miss-see',
  things: NEAR_MISSES,
  ...(body && { body }),
});

const DAMAGE = { xMm: 1, yMm: 1, what: 'For the matrix' };

const NEAR_MISS = { place: 'Press', what: 'For the matrix', hurt: 'nobody' };

/** Headings and nobody, as the sheet carries a table. */
const EMPTY_TABLE = gzipSync('name,email').toString('base64url');

const DRAWING = sampleDxf('tile-spacer-4up');
const BOLSTER_FACTS = bolsterOnWire(keyedBolster);
const OUT_OF_SERVICE = { fromDate: '', fromTime: '', toDate: '2070-01-01', toTime: '12:00', reason: 'Oil' };

/** The plate's own form, without a new drawing: the one it has is measured again. */
const PLATE_FORM = {
  alloy: 'EN AW-6082-T6',
  thicknessMm: '16',
  screw: 'M6',
  screwLengthMm: '20',
  headSinkDepthMm: '7',
  headSinkDiameterMm: '11',
};

const PASSWORDS = { current: TEST_PASSWORD, password: 'slate heron under wet roof' };
const INVITED = { email: 'matrix@gullwing.example', displayName: 'Matrix' };
const CONTENTS = { title: 'Saw', refreshMonths: 12, contents: '## One\n\nText' };

/** Routes of the API for who is signed in; what is open to everybody says so itself and is not listed. */
const API: { readonly [route: string]: RouteRight } = {
  'DELETE /session': {},
  'GET /me': { asks: 'account-see' },
  'PATCH /me': { asks: 'account-edit', body: () => ({ displayName: 'Somebody' }) },
  'POST /me/password': { asks: 'account-edit', body: () => PASSWORDS },
  'POST /me/leaving': { asks: 'member-leave', body: () => ({ password: TEST_PASSWORD }) },
  'GET /members': {
    asks: 'member-see',
    seenBy: 'member-see',
    things: { everybody: async () => ({ subject: {} }) },
  },
  'GET /members/:id': onMember('member-see'),
  'PUT /members/:id/role': onMember('member-role', () => ({ role: 'steward' })),
  'POST /members/:id/suspension': onMember('member-suspend', reason),
  'DELETE /members/:id/suspension': onMember('member-suspend', reason),
  'DELETE /members/:id/sessions': onMember('member-sign-out'),
  'POST /members/:id/leaving': onMember('member-leave'),
  'POST /members/:id/password-reset': onMember('member-reset'),
  'GET /invitations': {
    asks: 'member-invite',
    seenBy: 'member-invite',
    things: { all: async () => ({ subject: { role: 'member' } }) },
  },
  'POST /invitations': {
    asks: 'member-invite',
    things: ROLES_WISHED,
    body: (thing) => ({ ...INVITED, email: newAddress(), ...named(thing) }),
  },
  'POST /invitations/import': { asks: 'member-import', body: () => ({ csv: 'name,email', dryRun: true }) },
  'DELETE /invitations/:id': { asks: 'member-invite', seenBy: 'member-invite', things: INVITATIONS },
  'GET /notices': {},
  'POST /notices/:id/read': { asks: 'notice-see', seenBy: 'notice-see', things: NOTICES },
  'POST /notices/read': { body: () => ({ through: '2026-01-01T00:00:00.000Z' }) },
  'GET /trail': {},
  'GET /competences': { asks: 'induction-read' },
  'POST /competences': { asks: 'induction-edit', body: () => ({ competence: 'saw', ...CONTENTS }) },
  'GET /competences/:competence': { asks: 'induction-read' },
  'PUT /competences/:competence': { asks: 'induction-edit', body: () => ({ ...CONTENTS, basedOn: 1 }) },
  'POST /competences/:competence/answers': {
    asks: 'induction-answer',
    body: () => ({ version: 1, part: 1, answers: [] }),
  },
  'POST /competences/:competence/witness': { asks: 'induction-answer', body: () => ({}) },
  'DELETE /competences/:competence/witness': { asks: 'induction-answer' },
  'GET /witness-requests': { asks: 'induction-read' },
  'POST /signoffs': {
    asks: 'sign-off-give',
    things: MEMBERS,
    body: (thing) => ({ ...named(thing), competence: 'drying-oven', note: 'seen' }),
  },
  'POST /signoffs/declaration': {
    asks: 'sign-off-declare',
    body: () => ({ competences: ['drying-oven'], eighteenOrOlder: true }),
  },
  'POST /signoffs/declaration/anew': {
    asks: 'sign-off-declare',
    body: () => ({ note: 'nobody is left', eighteenOrOlder: true }),
  },
  'GET /signoffs': {
    asks: 'sign-off-see',
    seenBy: 'sign-off-see',
    things: MEMBERS,
    query: ({ params }) => `memberId=${params?.id}`,
  },
  'DELETE /signoffs/:id': signOffs('sign-off-revoke', reason),
  'GET /shop-rules': { asks: 'shop-rules-see' },
  'POST /shop-rules/preview': {
    asks: 'shop-rules-edit',
    body: () => ({ changes: { bookableDaysAhead: 27 } }),
  },
  'POST /shop-rules': {
    asks: 'shop-rules-edit',
    body: () => ({ changes: { bookableDaysAhead: 27 }, basedOn: 1 }),
  },
  'GET /closures': { asks: 'shop-rules-see' },
  'POST /closures': { asks: 'shop-rules-edit', body: () => ({ ...span, note: 'Away' }) },
  'DELETE /closures/:id': { asks: 'shop-rules-edit', things: CLOSURES },
  'GET /press': { asks: 'press-see' },
  'GET /press/versions': { asks: 'press-see' },
  'POST /press/preview': { asks: 'press-edit', body: () => ({ facts: demoPress, basedOn: 999 }) },
  'POST /press/versions': {
    asks: 'press-edit',
    body: () => ({ facts: demoPress, basedOn: 999, why: 'for the matrix' }),
  },
  'GET /bolsters/:id': { asks: 'press-see', things: BOLSTERS },
  'GET /bolsters/:id/versions': { asks: 'press-see', things: BOLSTERS },
  'POST /bolsters': {
    asks: 'press-edit',
    body: () => ({ name: 'Keyed', facts: BOLSTER_FACTS, why: 'for the matrix' }),
  },
  'POST /bolsters/:id/preview': {
    asks: 'press-edit',
    things: BOLSTERS,
    body: () => ({ facts: BOLSTER_FACTS, basedOn: 999 }),
  },
  'POST /bolsters/:id/versions': {
    asks: 'press-edit',
    things: BOLSTERS,
    body: () => ({ facts: BOLSTER_FACTS, basedOn: 999, why: 'for the matrix' }),
  },
  'POST /bolsters/:id/mounting/preview': {
    asks: 'press-edit',
    things: BOLSTERS,
    body: () => ({ insteadOf: null }),
  },
  'POST /bolsters/:id/mounting': {
    asks: 'press-edit',
    things: BOLSTERS,
    body: () => ({ insteadOf: null, why: 'for the matrix' }),
  },
  'GET /equipment': { asks: 'press-see' },
  'GET /outages': { asks: 'press-see' },
  'POST /outages': {
    asks: 'press-service',
    things: OUTAGES,
    body: (thing) => ({ ...named(thing), ...span, reason: 'Oil' }),
  },
  'DELETE /outages/:id': { asks: 'press-service', things: OUTAGES },
  'GET /inspections': { asks: 'press-see' },
  'POST /inspections': {
    asks: 'press-edit',
    body: () => ({ inspectedOn: '2020-01-02', inspectedBy: 'Somebody', intervalMonths: 12, note: 'Fine' }),
  },
  'GET /grades': { asks: 'grade-see' },
  'POST /grades': {
    asks: 'grade-keep',
    body: () => ({ name: newAddress(), polymer: 'PP', sheetTitle: 'A sheet', sheetDate: '2020-01-02' }),
  },
  'GET /grades/:id': { asks: 'grade-see', things: RESIN_GRADES },
  'GET /grades/:id/versions': { asks: 'grade-see', things: RESIN_GRADES },
  'POST /grades/:id/versions': {
    asks: 'grade-keep',
    things: RESIN_GRADES,
    body: () => ({ basedOn: 1, why: 'Another sheet', sheetTitle: 'B', sheetDate: '2020-01-02' }),
  },
  'GET /stack-parts': { asks: 'press-see' },
  'POST /stack-parts': {
    asks: 'stock-keep',
    body: () => ({
      kind: 'packer',
      name: newAddress(),
      thicknessMm: 8,
      widthMm: 150,
      heightMm: 120,
      material: 'steel',
    }),
  },
  'PATCH /stack-parts/:id': {
    asks: 'stock-keep',
    things: STACK_PARTS,
    body: () => ({ basedOn: 1, place: 'Bay 2' }),
  },
  'GET /library': {},
  'GET /bolsters/:id/damage': { asks: 'press-see', things: BOLSTERS },
  'POST /bolsters/:id/damage': {
    asks: 'bolster-damage-report',
    things: BOLSTERS,
    body: () => ({ half: 'moving', ...DAMAGE }),
  },
  'GET /plates/:id/damage': onPlate('plate-see'),
  'POST /plates/:id/damage': onPlate('plate-damage-report', () => DAMAGE),
  'GET /damage/:id': { asks: 'plate-see', seenBy: 'plate-see', things: DAMAGES },
  'POST /damage/:id/closing': {
    asks: 'damage-close',
    seenBy: 'plate-see',
    things: DAMAGES,
    body: () => ({ done: 'for the matrix' }),
  },
  'GET /plates/:id/history': onPlate('plate-see'),
  'GET /plates': {},
  'POST /plates': { asks: 'plate-submit', body: () => ({ name: 'None', dxf: '0', ...usualFacts }) },
  'GET /plates/:id': onPlate('plate-see'),
  'PATCH /plates/:id': onPlate('plate-revise', () => ({ name: 'Another name' })),
  'PUT /plates/:id/owner': onPlate('plate-hand-over', () => ({ memberId: randomUUID() })),
  // Who may not see the plate is told so before a resin that there is none of is.
  'GET /plates/:id/compare': { ...onPlate('plate-see'), query: () => 'toPolymer=none' },
  'GET /plates/:id/photographs': onPlate('plate-see'),
  'POST /plates/:id/photographs': onPlate('plate-photograph', () => ({ caption: 'No file' })),
  'GET /photographs/:id': { asks: 'plate-see', seenBy: 'plate-see', things: PHOTOGRAPHS },
  'DELETE /photographs/:id': { asks: 'photograph-remove', seenBy: 'plate-see', things: PHOTOGRAPHS },
  'POST /plates/:id/revisions': onPlate('plate-revise', () => ({ dxf: DRAWING, ...usualFacts })),
  'GET /plates/:id/revisions/:revision/drawing': onPlate('plate-see'),
  'GET /plates/:id/revisions/:revision/cutting-list': onPlate('plate-see'),
  'GET /plates/:id/revisions/:revision/check': { ...onPlate('plate-see'), query: () => 'polymer=PP' },
  'GET /plates/:id/revisions/:revision/clearance': onPlate('plate-see'),
  'POST /plates/:id/revisions/:revision/clearance': onPlate('plate-clear', () => ({
    step: 'fit',
    decision: 'refuse',
    note: 'for the matrix',
  })),
  'POST /plates/:id/revisions/:revision/rework': onPlate('plate-rework', reason),
  'POST /bookings': {
    ...onPlate('plate-run'),
    body: (thing) => ({ ...span, ...named(thing), revision: 1, polymer: 'PP' }),
  },
  'GET /bookings': { asks: 'booking-see' },
  'GET /bookings/:id': onBooking('booking-see'),
  'GET /desk': hidden('desk-see'),
  'PATCH /bookings/:id': onBooking('booking-move', () => span),
  'DELETE /bookings/:id': onBooking('booking-cancel', reason),
  'POST /bookings/:id/run': onBooking('booking-run', () => ({})),
  'GET /bookings/:id/trial-plan': onBooking('booking-see-whole'),
  'GET /runs': {},
  'GET /runs/:id': onRun('booking-see-whole'),
  'POST /runs/:id/steps': onRun('booking-run', () => ({ step: 'none', went: 'on' })),
  'POST /runs/:id/closing': onRun('booking-run', () => ({ outcome: 'finished' })),
  'GET /near-misses': {},
  'POST /near-misses': { asks: 'near-miss-report', body: () => NEAR_MISS },
  'GET /near-misses/:id': onNearMiss('near-miss-see'),
  'POST /near-misses/:id/answer': onNearMiss('near-miss-answer', () => ({ done: 'for the matrix' })),
};

/** Pages; a form's fields are its body. */
const PAGES: { readonly [route: string]: RouteRight } = {
  'POST /sign-out': {},
  'GET /account': { asks: 'account-see' },
  'POST /account/sign-out-elsewhere': {},
  'POST /account/name': { asks: 'account-edit', body: () => ({ displayName: 'Somebody' }) },
  'POST /account/password': { asks: 'account-edit', body: () => PASSWORDS },
  'GET /account/leave': { asks: 'account-see' },
  'POST /account/leave': { asks: 'member-leave', body: () => ({ password: TEST_PASSWORD }) },
  'GET /members': {
    asks: 'member-see',
    seenBy: 'member-see',
    things: { everybody: async () => ({ subject: {} }) },
  },
  'GET /members/invite': {
    asks: 'member-invite',
    seenBy: 'member-invite',
    things: { 'a member': async () => ({ subject: { role: 'member' } }) },
  },
  'POST /members/invite': {
    ...hidden('member-invite'),
    things: ROLES_WISHED,
    body: (thing) => ({ ...INVITED, email: newAddress(), ...named(thing) }),
  },
  'GET /members/import': hidden('member-import'),
  'POST /members/import': hidden('member-import'),
  'POST /members/import/links': { asks: 'member-import', body: () => ({ table: EMPTY_TABLE }) },
  'POST /members/invitations/:id/withdraw': {
    asks: 'member-invite',
    seenBy: 'member-invite',
    things: INVITATIONS,
  },
  'GET /members/:id': onMember('member-see'),
  'POST /members/:id/role': onMember('member-role', () => ({ role: 'steward' })),
  'POST /members/:id/suspend': onMember('member-suspend', reason),
  'POST /members/:id/end-suspension': onMember('member-suspend', reason),
  'POST /members/:id/sign-out': onMember('member-sign-out'),
  'GET /members/:id/leave': onMember('member-leave'),
  'POST /members/:id/leave': onMember('member-leave'),
  'POST /members/:id/reset-link': onMember('member-reset'),
  'GET /notices': {},
  'POST /notices/read': { body: () => ({ through: '2026-01-01T00:00:00.000Z' }) },
  'POST /notices/:id/read': { asks: 'notice-see', seenBy: 'notice-see', things: NOTICES },
  'GET /trail': {},
  'GET /shop-rules': { asks: 'shop-rules-see' },
  'GET /shop-rules/change': { asks: 'shop-rules-edit' },
  'POST /shop-rules/preview': { asks: 'shop-rules-edit' },
  'POST /shop-rules': { asks: 'shop-rules-edit' },
  'POST /closures': { asks: 'shop-rules-edit' },
  'POST /closures/:id/lift': { asks: 'shop-rules-edit', things: CLOSURES },
  'GET /press': { asks: 'press-see' },
  'GET /press/change': { asks: 'press-edit' },
  'POST /press/preview': { asks: 'press-edit' },
  'POST /press': { asks: 'press-edit' },
  'GET /bolsters/new': { asks: 'press-edit' },
  'POST /bolsters/new': { asks: 'press-edit' },
  'GET /bolsters/:id': { asks: 'press-see', things: BOLSTERS },
  'GET /bolsters/:id/change': { asks: 'press-edit', things: BOLSTERS },
  'POST /bolsters/:id/change': { asks: 'press-edit', things: BOLSTERS },
  'POST /bolsters/:id/versions': { asks: 'press-edit', things: BOLSTERS },
  'GET /bolsters/:id/mounting': { asks: 'press-edit', things: BOLSTERS },
  'POST /bolsters/:id/mounting': { asks: 'press-edit', things: BOLSTERS },
  'POST /outages': {
    asks: 'press-service',
    things: OUTAGES,
    body: (thing) => ({ ...named(thing), ...OUT_OF_SERVICE }),
  },
  'POST /outages/:id/back': { asks: 'press-service', things: OUTAGES },
  'POST /inspections': { asks: 'press-edit' },
  'GET /stock': { asks: 'press-see' },
  'POST /stock': { asks: 'stock-keep' },
  'GET /stock/:id': { asks: 'stock-keep', things: STACK_PARTS },
  'POST /stock/:id': { asks: 'stock-keep', things: STACK_PARTS },
  'GET /resins': { asks: 'grade-see' },
  'GET /resins/new': { asks: 'grade-keep' },
  'POST /resins/new': { asks: 'grade-keep' },
  'GET /resins/:id': { asks: 'grade-see', things: RESIN_GRADES },
  'GET /resins/:id/revise': { asks: 'grade-keep', things: RESIN_GRADES },
  'POST /resins/:id/revise': { asks: 'grade-keep', things: RESIN_GRADES },
  'GET /inductions': { asks: 'induction-read' },
  'GET /inductions/card': { asks: 'sign-off-see' },
  'POST /inductions/card': { asks: 'sign-off-see' },
  'GET /inductions/declare-anew': { asks: 'sign-off-declare' },
  'POST /inductions/declare-anew': { asks: 'sign-off-declare' },
  'GET /inductions/declaration': { asks: 'sign-off-declare' },
  'POST /inductions/declaration': { asks: 'sign-off-declare' },
  'GET /inductions/history/:id': { asks: 'sign-off-see', seenBy: 'sign-off-see', things: MEMBERS },
  'GET /inductions/new': { asks: 'induction-edit' },
  'POST /inductions/new': { asks: 'induction-edit' },
  'GET /inductions/sign-offs/:id/revoke': signOffs('sign-off-revoke'),
  'POST /inductions/sign-offs/:id/revoke': signOffs('sign-off-revoke', reason),
  'GET /inductions/witness': {
    asks: 'induction-witness',
    things: { anybody: async () => ({ subject: {} }) },
  },
  'GET /inductions/witness/:id': { asks: 'induction-witness', things: WITNESS_REQUESTS },
  'POST /inductions/witness/:id': { asks: 'induction-witness', things: WITNESS_REQUESTS },
  'GET /inductions/:competence': { asks: 'induction-read' },
  'GET /inductions/:competence/edit': { asks: 'induction-edit' },
  'POST /inductions/:competence/edit': { asks: 'induction-edit' },
  'POST /inductions/:competence/witness': { asks: 'induction-answer' },
  'POST /inductions/:competence/withdraw': { asks: 'induction-answer' },
  'GET /inductions/:competence/:part': { asks: 'induction-read' },
  'POST /inductions/:competence/:part': { asks: 'induction-answer' },
  'GET /desk': hidden('desk-see'),
  'GET /verify': {
    ...hidden('sign-off-see'),
    things: { 'any card': async () => ({ subject: { ownerId: 'anybody' } }) },
  },
  'GET /verify/:code': { asks: 'sign-off-see', seenBy: 'sign-off-see', things: CARDS },
  'GET /bolsters/:id/damage': { asks: 'press-see', things: BOLSTERS },
  'POST /bolsters/:id/damage': { asks: 'bolster-damage-report', things: BOLSTERS },
  'GET /plates/:id/damage': onPlate('plate-see'),
  'POST /plates/:id/damage': onPlate('plate-damage-report'),
  'GET /damage/:id': { asks: 'plate-see', seenBy: 'plate-see', things: DAMAGES },
  'POST /damage/:id/close': {
    asks: 'damage-close',
    seenBy: 'plate-see',
    things: DAMAGES,
    body: () => ({ done: 'for the matrix' }),
  },
  'GET /plates/:id/history': onPlate('plate-see'),
  'GET /library': {},
  'GET /library/labels': {},
  'GET /plates': {},
  'GET /plates/:id': onPlate('plate-see'),
  'GET /plates/:id/label': onPlate('plate-see'),
  'GET /plates/submit': { asks: 'plate-submit' },
  'POST /plates/submit': { asks: 'plate-submit' },
  // Who may not see the plate is told so before a resin that there is none of is.
  'GET /plates/:id/compare': { ...onPlate('plate-see'), query: () => 'toPolymer=none' },
  'POST /plates/:id/sharing': onPlate('plate-share', () => ({ sharing: 'see' })),
  'POST /plates/:id/rack': onPlate('plate-rack', () => ({
    place: 'Shelf 9',
    condition: 'good',
    conditionNote: '',
  })),
  'POST /plates/:id/owner': onPlate('plate-hand-over', () => ({ memberId: randomUUID() })),
  'POST /plates/:id/retire': onPlate('plate-retire', () => ({ retired: 'yes' })),
  'POST /plates/:id/photographs': onPlate('plate-photograph', () => ({ caption: 'No file' })),
  'GET /photographs/:id': { asks: 'plate-see', seenBy: 'plate-see', things: PHOTOGRAPHS },
  'POST /photographs/:id/remove': {
    asks: 'photograph-remove',
    seenBy: 'plate-see',
    things: PHOTOGRAPHS,
  },
  'POST /plates/:id/name': onPlate('plate-revise', () => ({ name: 'Another name' })),
  'POST /plates/:id/revisions': onPlate('plate-revise', () => PLATE_FORM),
  'GET /plates/:id/revisions/:revision/drawing': onPlate('plate-see'),
  'GET /plates/:id/revisions/:revision/cutting-list': onPlate('plate-see'),
  'GET /plates/:id/clearance': onPlate('plate-see'),
  'POST /plates/:id/clearance/void': onPlate('plate-clear', () => ({ ...reason(), step: 'fit' })),
  'POST /plates/:id/clearance/rework': onPlate('plate-rework', reason),
  'GET /plates/:id/clearance/fit': onPlate('plate-clear'),
  'POST /plates/:id/clearance/fit': onPlate('plate-clear'),
  'GET /plates/:id/clearance/trial': onPlate('plate-clear'),
  'POST /plates/:id/clearance/trial': onPlate('plate-clear'),
  'GET /plates/:id/clearance/production': onPlate('plate-clear'),
  'POST /plates/:id/clearance/production': onPlate('plate-clear'),
  'GET /week': {},
  'GET /bookings': {},
  'GET /bookings/all': { asks: 'booking-see-whole', things: { everybodys: async () => ({ subject: {} }) } },
  'GET /bookings/new': { asks: 'booking-make' },
  'POST /bookings/new': { asks: 'booking-make' },
  'GET /bookings/:id': onBooking('booking-see'),
  'POST /bookings/:id/move': onBooking('booking-move', () => ({
    date: '2070-01-01',
    from: '12:00',
    to: '13:00',
    seenStartsAt: '2069-12-31T12:00:00.000Z',
    seenEndsAt: '2069-12-31T13:00:00.000Z',
  })),
  'GET /bookings/:id/cancel': onBooking('booking-cancel'),
  'POST /bookings/:id/cancel': onBooking('booking-cancel', reason),
  'GET /bookings/:id/run': onBooking('booking-run'),
  'POST /bookings/:id/run': onBooking('booking-run'),
  'GET /bookings/:id/trial-sheet': onBooking('booking-see-whole'),
  'GET /runs': {},
  'GET /runs/:id': onRun('booking-see-whole'),
  'POST /runs/:id/steps': onRun('booking-run', () => ({ step: 'none', went: 'on' })),
  'POST /runs/:id/close': onRun('booking-run', () => ({ outcome: 'finished' })),
  'GET /near-miss': { asks: 'near-miss-report' },
  'POST /near-miss': { asks: 'near-miss-report' },
  'GET /near-misses': {},
  'GET /near-misses/:id': onNearMiss('near-miss-see'),
  'POST /near-misses/:id/answer': onNearMiss('near-miss-answer', () => ({ done: 'for the matrix' })),
};

const withPrefix = ([route, right]: [string, RouteRight]) =>
  [route.replace(' /', ' /api/v1/'), right] as const;

/** Every route that asks who one is, by method and pattern. */
export const ROUTE_RIGHTS: { readonly [route: string]: RouteRight } = {
  ...Object.fromEntries(Object.entries(API).map(withPrefix)),
  ...PAGES,
};

/** What stands in addresses whatever they are about. */
export const PARAMS: { readonly [name: string]: string } = { competence: 'granulator', part: '1' };

export { NOTHING };
