/** An XML element: written with its attributes in the order given, its children below it. */
export interface Xml {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string | undefined>>;
  readonly children: readonly Xml[];
}

export const xml = (name: string, attributes: Xml['attributes'] = {}, ...children: readonly Xml[]): Xml => ({
  name,
  attributes,
  children,
});

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  // Spelt out, or an XML reader would turn them into spaces (XML 1.0, section 3.3.3).
  '\t': '&#9;',
  '\n': '&#10;',
  '\r': '&#13;',
};

const escaped = (text: string): string => text.replace(/[&<>"\t\n\r]/g, (sign) => ESCAPES[sign] ?? sign);

/** The text of an element, two spaces in for each level. What is undefined is left out. */
export function xmlText({ name, attributes, children }: Xml, indent = ''): string {
  const given = Object.entries(attributes).flatMap(([key, value]) =>
    value === undefined ? [] : [` ${key}="${escaped(value)}"`],
  );
  const open = `${indent}<${name}${given.join('')}`;
  if (children.length === 0) return `${open}/>\n`;
  const inner = children.map((child) => xmlText(child, `${indent}  `)).join('');
  return `${open}>\n${inner}${indent}</${name}>\n`;
}
