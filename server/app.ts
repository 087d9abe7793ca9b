import { join } from 'node:path';
import fastifyCookie from '@fastify/cookie';
import fastifyFormbody from '@fastify/formbody';
import fastify, { type FastifyInstance, LogController } from 'fastify';
import { auditPages } from './audit/pages.js';
import { auditRoutes } from './audit/routes.js';
import { membersAboveQuota } from './bookings/above-quota.js';
import { cancelComing } from './bookings/cancel-coming.js';
import { foreseeGround } from './bookings/foresee-ground.js';
import { foreseeRules } from './bookings/foresee-rules.js';
import { forgetCancelReasons } from './bookings/forget-cancel-reasons.js';
import {
  holdTouched,
  lookAtAll,
  lookAtMember,
  lookAtPlate,
  lookAtTime,
  lookOnGround,
  lookUnderRules,
} from './bookings/look-again.js';
import { nextBookings } from './bookings/next-bookings.js';
import { bookingPages } from './bookings/pages.js';
import { ownQuota } from './bookings/quota.js';
import { makeMissingReports } from './bookings/reassess.js';
import { bookingRoutes } from './bookings/routes.js';
import { bookingCountOf, bookingsIn } from './bookings/store.js';
import type { Actor } from './context.js';
import type { Database } from './database/database.js';
import { noDeskFor } from './desk/desk-house.js';
import { deskPages } from './desk/pages.js';
import { DESK_QUEUES } from './desk/queues.js';
import { deskRoutes } from './desk/routes.js';
import { allWaiting } from './desk/waiting.js';
import { closedUnlessOpen } from './http/acting.js';
import { answerBeforeClosing } from './http/answer-before-closing.js';
import { API_PREFIX, speakApi } from './http/api.js';
import { apiPages } from './http/api-pages.js';
import { ASSETS_PREFIX, serveAssets } from './http/assets.js';
import { doChoresHourly } from './http/chores.js';
import { guardCookieCalls, registerCsrf } from './http/csrf.js';
import { answerHealth } from './http/health.js';
import { homePage } from './http/home.js';
import type { House } from './http/house.js';
import { registerOpenApi } from './http/openapi.js';
import { openApiRoutes } from './http/openapi-routes.js';
import { speakPages } from './http/pages.js';
import { partsPage } from './http/parts-page.js';
import { chargeStrangers } from './http/rate-limit.js';
import { readableAddress } from './http/readable-address.js';
import { keepRouteBook } from './http/route-book.js';
import { registerSecurityHeaders } from './http/security-headers.js';
import { sweepHourly } from './http/sweep.js';
import { readUploads } from './http/uploads.js';
import { declareAtFounding } from './inductions/declare-founding.js';
import { forgetInductionWords } from './inductions/forget-member.js';
import { nextInductions } from './inductions/next-inductions.js';
import { inductionPages } from './inductions/pages.js';
import { remindOfLapses } from './inductions/remind.js';
import { inductionRoutes } from './inductions/routes.js';
import { signOffRoutes } from './inductions/sign-off-routes.js';
import { signOffsOf } from './inductions/sign-off-store.js';
import { stewardsNow } from './inductions/standing.js';
import type { Listeners } from './listeners.js';
import { endStewarding } from './members/end-stewarding.js';
import { identifyMembers } from './members/identify.js';
import { tokenSecret } from './members/installation.js';
import { memberPages } from './members/pages.js';
import { may } from './members/permissions.js';
import { memberRoutes } from './members/routes.js';
import type { OwnMore } from './members/schemas.js';
import { registerTokens } from './members/token.js';
import { forgetNotices } from './notices/forget-notices.js';
import { noticePages } from './notices/pages.js';
import { noticeRoutes } from './notices/routes.js';
import { unreadCount } from './notices/store.js';
import { createCheckPool } from './plates/check-pool.js';
import type { CheckingHouse } from './plates/checking-house.js';
import type { ClearanceHouse } from './plates/clearance/clearance-house.js';
import { clearancePages } from './plates/clearance/pages.js';
import { clearanceRoutes } from './plates/clearance/routes.js';
import { tellOfBolster } from './plates/clearance/tell-of-bolster.js';
import { cuttingListPages } from './plates/cutting-list/pages.js';
import { cuttingListRoutes } from './plates/cutting-list/routes.js';
import { openDamage } from './plates/damage/store.js';
import type { HistoryHouse } from './plates/history/history-house.js';
import { plateHistoryPages } from './plates/history/pages.js';
import { plateHistoryRoutes } from './plates/history/routes.js';
import { platePages } from './plates/pages.js';
import { plateRoutes } from './plates/routes.js';
import { firstRunPages } from './press/first-run-pages.js';
import { inspectionRoutes } from './press/inspections/routes.js';
import { mountingRoutes } from './press/mounting-routes.js';
import { outageRoutes } from './press/outages/routes.js';
import { pressRoomPages } from './press/pages.js';
import type { PressHouse } from './press/press-house.js';
import { pressRoutes } from './press/routes.js';
import { stackPartRoutes } from './press/stack-parts/routes.js';
import { PROJECT_FOLDER } from './project-folder.js';
import { resinPages } from './resin/pages.js';
import { resinRoutes } from './resin/routes.js';
import { forgetWithinCall } from './runs/forget-within-call.js';
import { nearMissPages } from './runs/near-misses/pages.js';
import { nearMissRoutes } from './runs/near-misses/routes.js';
import { openNow } from './runs/open-now.js';
import { runPages } from './runs/pages.js';
import { runRoutes } from './runs/routes.js';
import { stopRunsOf } from './runs/stop-runs-of.js';
import { closedTrials, runsOfPlate } from './runs/store.js';
import type { Settings } from './settings.js';
import { shopPages } from './shop/pages.js';
import { shopRoutes } from './shop/routes.js';
import type { ShopHouse } from './shop/shop-house.js';
import { findRulesAt, makerspaceName } from './shop/store.js';
import { registerViews } from './views.js';

export interface Dependencies {
  readonly settings: Settings;
  readonly database: Database;
  readonly now: () => Date;
}

/**
 * Puts the house together: what all share, then one line per room in the REST world and in the world of pages.
 * It neither listens nor owns what it is given. The installation must be prepared.
 */
export async function buildApp({ settings, database, now }: Dependencies): Promise<FastifyInstance> {
  const place = async () => (await makerspaceName(database, now())) ?? 'A new makerspace';
  const listeners: Listeners = {
    signOffGiven: [lookAtMember],
    signOffEnded: [lookAtMember, endStewarding(stewardsNow)],
    memberSuspended: [lookAtMember],
    suspensionEnded: [lookAtMember],
    memberLeft: [
      stopRunsOf,
      cancelComing,
      forgetWithinCall,
      forgetCancelReasons,
      forgetInductionWords,
      forgetNotices,
    ],
    founded: [declareAtFounding],
    rulesChanged: [lookUnderRules],
    bolsterRevised: [tellOfBolster],
    groundChanged: [lookOnGround],
    serviceChanging: [holdTouched],
    outOfService: [lookAtTime],
    backInService: [lookAtTime],
    plateRevised: [lookAtPlate],
    sharingChanged: [lookAtPlate],
    plateRetired: [lookAtPlate],
    clearanceChanged: [lookAtPlate],
  };
  const timeZone = async () => (await findRulesAt(database, now()))?.timeZone ?? 'UTC';
  const waitingFor = async (actor: Actor) =>
    allWaiting(DESK_QUEUES, { db: database, now: now(), actor, timeZone: await timeZone() });
  const counts = async (actor: Actor) => {
    const waiting = noDeskFor(actor) === undefined ? waitingFor(actor) : null;
    return {
      notices: await unreadCount(database, actor.memberId),
      desk: (await waiting)?.length ?? null,
      seesMembers: may(actor, 'member-see'),
    };
  };
  const house: House = {
    settings,
    database,
    now,
    listeners,
    stewardsAt: stewardsNow,
    place,
    timeZone,
    counts,
  };
  const app = newServer(house);
  const checks = createCheckPool({
    workers: settings.checkWorkers,
    timeoutMs: settings.checkTimeoutMs,
    onDone: chargeStrangers(house),
  });
  app.addHook('onClose', checks.close);
  const checking: CheckingHouse = { ...house, checks };
  const clearing: ClearanceHouse = { ...checking, trialRuns: closedTrials };
  const history: HistoryHouse = {
    ...checking,
    runsOfPlate: (plateId) => runsOfPlate(database, plateId),
    bookingsOfPlate: (plateId) => bookingCountOf(database, plateId, now()),
  };
  const shop: ShopHouse = {
    ...house,
    bookingsIn,
    aboveQuota: membersAboveQuota,
    foresee: (proposed, actor) => foreseeRules(checking, proposed, actor),
  };
  const press: PressHouse = {
    ...house,
    readBolster: checks.bolster,
    openDamage: (bolsterId) => openDamage(database, bolsterId),
    foreseeGround: (proposed, actor) => foreseeGround(checking, proposed, actor),
  };

  await shareInfrastructure(app, house);
  doChoresHourly(app, house, [
    { name: 'reminders', run: (tx, at) => remindOfLapses(tx, at, listeners.signOffEnded) },
    { name: 'coming bookings', before: () => makeMissingReports(checking), run: lookAtAll },
  ]);
  await app.register(
    async (api) => {
      speakApi(api);
      guardCookieCalls(api, house);
      await api.register(openApiRoutes);
      await api.register(memberRoutes, { ...house, ownMore: (memberId) => ownMore(house, memberId) });
      await api.register(noticeRoutes, house);
      await api.register(auditRoutes, house);
      await api.register(inductionRoutes, house);
      await api.register(signOffRoutes, house);
      await api.register(shopRoutes, shop);
      await api.register(pressRoutes, press);
      await api.register(mountingRoutes, press);
      await api.register(outageRoutes, house);
      await api.register(inspectionRoutes, house);
      await api.register(stackPartRoutes, house);
      await api.register(resinRoutes, house);
      await api.register(plateRoutes, checking);
      await api.register(plateHistoryRoutes, history);
      await api.register(cuttingListRoutes, checking);
      await api.register(clearanceRoutes, clearing);
      await api.register(bookingRoutes, checking);
      await api.register(runRoutes, checking);
      await api.register(nearMissRoutes, house);
      await api.register(deskRoutes, { ...house, queues: DESK_QUEUES });
    },
    { prefix: API_PREFIX },
  );
  await app.register(async (pages) => {
    speakPages(pages, house);
    await pages.register(apiPages, house);
    await pages.register(partsPage, house);
    await pages.register(firstRunPages, house);
    await pages.register(memberPages, house);
    await pages.register(shopPages, shop);
    await pages.register(resinPages, house);
    await pages.register(inductionPages, house);
    await pages.register(noticePages, house);
    await pages.register(auditPages, house);
    await pages.register(clearancePages, clearing);
    await pages.register(pressRoomPages, press);
    await pages.register(platePages, checking);
    await pages.register(plateHistoryPages, history);
    await pages.register(cuttingListPages, checking);
    await pages.register(bookingPages, checking);
    await pages.register(runPages, checking);
    await pages.register(nearMissPages, house);
    await pages.register(deskPages, { ...house, queues: DESK_QUEUES });
    await pages.register(homePage, {
      ...house,
      rulesInForce: () => findRulesAt(database, now()),
      mine: [
        (actor, rules) => openNow(database, actor, rules, now()),
        (actor, rules) => nextBookings(database, actor, rules, now()),
        (actor) => nextInductions(database, actor, now()),
      ],
    });
  });
  return app;
}

/** What the rooms after the members' know of one of them, for their own eyes. */
async function ownMore({ database, now }: House, memberId: string): Promise<OwnMore> {
  const [signOffs, rules] = await Promise.all([signOffsOf(database, memberId), findRulesAt(database, now())]);
  return {
    signOffs: signOffs.filter(({ endKind, validUntil }) => endKind === null && validUntil > now()),
    quota: rules === undefined ? null : await ownQuota(database, memberId, rules, now()),
  };
}

/** The server itself: who is trusted to say where a request comes from, and how much it reads. */
function newServer({ settings }: House): FastifyInstance {
  return fastify({
    logger: { level: settings.logLevel },
    logController: new LogController({ disableRequestLogging: true }),
    trustProxy: trustedProxies(settings),
    forceCloseConnections: true,
    rewriteUrl: (raw) => readableAddress(raw.url ?? '/'),
    routerOptions: { ignoreTrailingSlash: false, maxParamLength: 200 },
  });
}

/** Addresses of proxies, or how many stand in front; nobody else may say whom a request comes from. */
function trustedProxies({ trustProxy }: Settings) {
  if (trustProxy === false) return false;
  return typeof trustProxy === 'number'
    ? (_address: string, hop: number) => hop < trustProxy
    : [...trustProxy];
}

async function shareInfrastructure(app: FastifyInstance, house: House): Promise<void> {
  const secret = await tokenSecret(house.database);
  const publicFolder = join(PROJECT_FOLDER, 'public');
  answerBeforeClosing(app);
  keepRouteBook(app);
  await registerSecurityHeaders(app, house.settings);
  await serveAssets(app, publicFolder);
  answerHealth(app, house);
  await app.register(fastifyCookie, { secret });
  await app.register(fastifyFormbody);
  await readUploads(app);
  await registerTokens(app, secret);
  identifyMembers(app, house);
  app.addHook('onRequest', closedUnlessOpen);
  await registerCsrf(app, house, secret);
  await registerOpenApi(app);
  await registerViews(app, {
    templatesFolder: join(PROJECT_FOLDER, 'templates'),
    publicFolder,
    assetsPrefix: ASSETS_PREFIX,
    // `npm run dev` starts anew when a template or style changes.
    cached: true,
  });
  sweepHourly(app, house);
}
