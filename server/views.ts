import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fastifyView from '@fastify/view';
import type { FastifyInstance } from 'fastify';
import Handlebars from 'handlebars';
import type { Verdict } from './engineering/finding.js';
import { firstAngleSign } from './pictures/first-angle-sign.js';
import { mark } from './pictures/mark.js';
import { SafeHtml } from './pictures/safe-html.js';
import { verdictShape } from './pictures/verdict-shape.js';

/** The links of the head; `account` and `cautions` stand in the foot and mark nothing. */
export type Section =
  | 'check'
  | 'plates'
  | 'library'
  | 'week'
  | 'bookings'
  | 'press'
  | 'inductions'
  | 'notices'
  | 'desk'
  | 'members';

/** What waits for a member and what the head leads them to; a desk is only a steward's. */
export interface SheetCounts {
  readonly notices: number;
  readonly desk: number | null;
  /** Whether there is a list of members for them. */
  readonly seesMembers: boolean;
}

export interface TitleBlockEntry {
  readonly label: string;
  readonly value: string;
  readonly href?: string;
}

/** A framed sentence under the title; see templates/partials/notice.hbs. */
export interface NoticeView {
  readonly verdict?: Verdict;
  /** Stands instead of the verdict's word: "kept", "sent". */
  readonly word?: string;
  readonly strong?: string;
  readonly text: string;
  readonly link?: { readonly href: string; readonly text: string };
  /** True when it must be heard at once. */
  readonly alert?: boolean;
}

export interface ErrorSummaryView {
  /** "Two things to put right". */
  readonly title: string;
  readonly items: readonly {
    readonly text: string;
    /** Id of the control it is about. */
    readonly field?: string;
    readonly fix?: string;
    /** Where it is seen whole. */
    readonly link?: { readonly href: string; readonly text: string };
  }[];
}

/** What every page gives to the layout `layouts/sheet.hbs` and its own template besides its own data. */
export interface SheetContext {
  readonly title: string;
  readonly kicker?: string;
  /** The makerspace's name. */
  readonly place: string;
  readonly current: Section | null;
  readonly member: { readonly displayName: string; readonly role: string } | null;
  /** What waits for the member, for the head; left out where nobody is signed in. */
  readonly counts?: SheetCounts;
  readonly csrfToken: string;
  /** Last thing of the page: what the sheet is, drawn on and from what, when. Empty: no title block. */
  readonly titleBlock: readonly TitleBlockEntry[];
  /** True where the sheet has views of a plate. */
  readonly firstAngle?: boolean;
  /** A member's own choice; left out, the system's holds. */
  readonly theme?: 'light' | 'dark';
  readonly notices?: readonly NoticeView[];
  readonly errorSummary?: ErrorSummaryView;
}

export interface ViewOptions {
  /** Absolute path of `templates`. */
  readonly templatesFolder: string;
  /** Absolute path of `public`. */
  readonly publicFolder: string;
  /** Where `public` is served, with a slash at both ends. */
  readonly assetsPrefix: string;
  /** Templates are read once and kept. */
  readonly cached: boolean;
}

/**
 * A partial sees only what it is given, so a cell never picks up the page's `value` or `error`; and it stands as it
 * is written, because indenting it would indent the lines of a text area too.
 */
const COMPILE_OPTIONS = { explicitPartialContext: true, preventIndent: true };

/** Puts `reply.view('check/check', page)` on the application: Handlebars inside the sheet's layout. */
export async function registerViews(app: FastifyInstance, options: ViewOptions): Promise<void> {
  await app.register(fastifyView, {
    engine: { handlebars: sheetHandlebars(options) },
    root: options.templatesFolder,
    layout: 'layouts/sheet.hbs',
    viewExt: 'hbs',
    production: options.cached,
    options: {
      ...COMPILE_OPTIONS,
      compileOptions: COMPILE_OPTIONS,
      partials: partialFiles(options.templatesFolder),
    },
  });
}

/** A Handlebars of our own with every helper; partials are registered by the caller or by `renderer`. */
function sheetHandlebars(options: Pick<ViewOptions, 'publicFolder' | 'assetsPrefix' | 'cached'>) {
  const handlebars = Handlebars.create();
  handlebars.registerHelper({
    eq: (left: unknown, right: unknown) => left === right,
    not: (value: unknown) => !value,
    or: (...given: unknown[]) => given.slice(0, -1).some(Boolean),
    and: (...given: unknown[]) => given.slice(0, -1).every(Boolean),
    decimal: (value: unknown, hash: { hash: { decimals?: number; signed?: boolean } }) =>
      formatNumber(value, hash.hash.decimals ?? 0, hash.hash.signed ?? false),
    join: (...given: unknown[]) => given.slice(0, -1).join(''),
    describedBy: (id: string, { hash }: { hash: Record<string, unknown> }) =>
      ['hint', 'error', 'unit']
        .filter((part) => hash[part])
        .map((part) => `${id}-${part}`)
        .join(' '),
    asset: assetAddress(options),
    picture: (picture: unknown) => safeString(picture),
    shape: (verdict: Verdict, { hash }: { hash: { large?: boolean } }) =>
      safeString(verdictShape(verdict, hash.large ?? false)),
    mark: () => safeString(mark()),
    firstAngleSign: () => safeString(firstAngleSign()),
  });
  return handlebars;

  /** The one way raw markup reaches a page. */
  function safeString(picture: unknown) {
    if (!(picture instanceof SafeHtml))
      throw new TypeError('The picture helper takes SafeHtml and nothing else');
    return new handlebars.SafeString(picture.markup);
  }
}

/** Renders a template outside a request, for tests and for pages kept as files. Without a layout when `layout` is null. */
export function renderer(options: ViewOptions) {
  const handlebars = sheetHandlebars(options);
  const read = (name: string) => readFileSync(join(options.templatesFolder, name), 'utf8');
  for (const [name, file] of Object.entries(partialFiles(options.templatesFolder)))
    handlebars.registerPartial(name, handlebars.compile(read(file), COMPILE_OPTIONS));
  return {
    page(template: string, context: SheetContext): string {
      const body = handlebars.compile(read(`${template}.hbs`), COMPILE_OPTIONS)(context);
      return handlebars.compile(read('layouts/sheet.hbs'), COMPILE_OPTIONS)({ ...context, body });
    },
    partial(name: string, context: object): string {
      return handlebars.compile(`{{> ${name} this}}`, COMPILE_OPTIONS)(context);
    },
  };
}

/** With a true minus, a comma between thousands and a fixed number of decimals. */
function formatNumber(value: unknown, decimals: number, signed: boolean): string {
  if (typeof value !== 'number' || !Number.isFinite(value)) return '';
  const text = Math.abs(value).toLocaleString('en-GB', {
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
  });
  const isZero = !/[1-9]/.test(text);
  if (value < 0 && !isZero) return `−${text}`;
  return signed && !isZero ? `+${text}` : text;
}

/** Partial names to files, relative to the templates' folder. */
function partialFiles(templatesFolder: string): Record<string, string> {
  return Object.fromEntries(
    readdirSync(join(templatesFolder, 'partials'))
      .filter((file) => file.endsWith('.hbs'))
      .map((file) => [file.slice(0, -'.hbs'.length), `partials/${file}`]),
  );
}

/** The address of a file of `public`, with a piece of its content's hash so that it may be kept for ever. */
function assetAddress(options: Pick<ViewOptions, 'publicFolder' | 'assetsPrefix' | 'cached'>) {
  const kept = new Map<string, string>();
  return (name: string): string => {
    const known = options.cached ? kept.get(name) : undefined;
    if (known !== undefined) return known;
    const hash = createHash('sha256')
      .update(readFileSync(join(options.publicFolder, name)))
      .digest('hex');
    const address = `${options.assetsPrefix}${name}?v=${hash.slice(0, 10)}`;
    kept.set(name, address);
    return address;
  };
}
