import MarkdownIt, { type Token } from 'markdown-it';
import sanitizeHtml from 'sanitize-html';
import { SafeHtml } from '../pictures/safe-html.js';

/** Levels of lists and quotes inside one another that a text may have. */
export const NESTING_MAX = 8;

/** The parser stops a little past what is allowed, so that what is too deep is seen and costs nothing. */
const markdown = new MarkdownIt({ html: false, linkify: false, maxNesting: NESTING_MAX + 12 });

/** A Markdown text as a flat list of blocks; HTML in it is text like any other. */
export function tokensOf(text: string): readonly Token[] {
  return markdown.parse(text, {});
}

/**
 * Blocks as markup that may go to a page. What the renderer makes is cleaned once more by a list of what is
 * allowed, so that no way past the one is a way past both. Headings of a text stand under a part's.
 */
export function htmlOf(tokens: readonly Token[]): SafeHtml {
  const rendered = markdown.renderer.render([...tokens], markdown.options, {});
  return new SafeHtml(sanitizeHtml(rendered, ALLOWED));
}

const ALLOWED: sanitizeHtml.IOptions = {
  allowedTags: [
    'p',
    'h3',
    'h4',
    'ul',
    'ol',
    'li',
    'strong',
    'em',
    'code',
    'pre',
    'br',
    'hr',
    'a',
    'blockquote',
    'table',
    'thead',
    'tbody',
    'tr',
    'th',
    'td',
  ],
  allowedAttributes: { a: ['href', 'rel'], ol: ['start'] },
  allowedSchemes: ['https', 'http', 'mailto'],
  allowProtocolRelative: false,
  transformTags: {
    h5: 'h4',
    h6: 'h4',
    table: sanitizeHtml.simpleTransform('table', { class: 'ps-table' }),
    a: sanitizeHtml.simpleTransform('a', { rel: 'noopener noreferrer' }),
  },
  allowedClasses: { table: ['ps-table'] },
};

/** The words of an inline token, without its marks. */
export function wordsOf(inline: Token | undefined): string {
  return (inline?.children ?? []).map(wordsOfChild).join('').trim();
}

function wordsOfChild(token: Token): string {
  if (token.type === 'softbreak' || token.type === 'hardbreak') return '\n';
  return token.type === 'text' || token.type === 'code_inline' || token.type === 'image' ? token.content : '';
}
