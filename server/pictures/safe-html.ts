/** Markup that may go to a page as it is. Only pictures make it, and they escape every text they are given. */
export class SafeHtml {
  readonly markup: string;

  constructor(markup: string) {
    this.markup = markup;
  }
}

const ENTITY_OF: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it may stand in an element or a quoted attribute. */
export function escapeText(text: string): string {
  return text.replace(/[&<>"']/g, (character) => ENTITY_OF[character] ?? character);
}
