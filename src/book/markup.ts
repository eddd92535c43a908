/** HTML that is safe to be put into a page: every value in it was escaped. */
export interface Markup {
  readonly html: string;
}

const SIGNS: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

export const escaped = (text: string): string => text.replaceAll(/[&<>"']/g, (sign) => SIGNS[sign] ?? sign);

type Value = string | number | null | undefined | false | Markup | readonly Value[];

function written(value: Value): string {
  if (value === null || value === undefined || value === false) return '';
  if (typeof value === 'string' || typeof value === 'number') return escaped(String(value));
  return 'html' in value ? value.html : value.map(written).join('');
}

/** A piece of a page; texts and numbers put into it are escaped, other pieces are not escaped again. */
export const page = (parts: TemplateStringsArray, ...values: readonly Value[]): Markup => ({
  html: parts.map((part, at) => part + written(values[at])).join(''),
});

/** A text inside a quoted CSS string. */
export const cssText = (text: string): string =>
  `"${text.replaceAll(/[^\p{L}\p{N} .,:;·/()–-]/gu, (sign) => `\\${(sign.codePointAt(0) ?? 0).toString(16)} `)}"`;
