import { ARM_LENGTH, type Reading, type TypeSizes, typeSizes, UNSET } from './optics.ts';

const NAMES = ['least', 'reading', 'figure', 'most'] as const satisfies readonly (keyof TypeSizes)[];

/** The sizes as lengths that every screen inherits: `--least`, `--reading`, `--figure`, `--most`, and `--near` at arm's length. */
function tokens(reading: Reading): [name: string, px: number][] {
  const sizes = typeSizes(reading);
  const near = typeSizes({ ...reading, distance: Math.min(reading.distance, ARM_LENGTH) });
  return [...NAMES.map((name): [string, number] => [`--${name}`, sizes[name]]), ['--near', near.least]];
}

const px = (length: number) => `${length.toFixed(2)}px`;

// Registered, so that they are lengths wherever they are read, and stand for the unset bench until it is set.
for (const [name, length] of tokens(UNSET)) {
  try {
    CSS.registerProperty({ name, syntax: '<length>', inherits: true, initialValue: px(length) });
  } catch {
    // Registered already: the module was loaded anew.
  }
}

/** Sets the type of all screens for this distance and this screen. */
export function useReading(reading: Reading): void {
  for (const [name, length] of tokens(reading)) document.documentElement.style.setProperty(name, px(length));
}

/** The sizes that an element inherits. */
export function sizesAt(element: Element): TypeSizes {
  const style = getComputedStyle(element);
  const size = (name: string) => Number.parseFloat(style.getPropertyValue(`--${name}`));
  return { least: size('least'), reading: size('reading'), figure: size('figure'), most: size('most') };
}

export type Theme = 'light' | 'dark' | 'auto';

/** Light, dark, or as the device has it. The one mechanism: `data-theme` on the root, always light or dark. */
export function useTheme(theme: Theme): void {
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const set = () => {
    const now = theme === 'auto' ? (dark.matches ? 'dark' : 'light') : theme;
    document.documentElement.dataset.theme = now;
    const colour = getComputedStyle(document.documentElement).getPropertyValue('--paper').trim();
    document.querySelector('meta[name="theme-color"]')?.setAttribute('content', colour);
  };
  dark.onchange = theme === 'auto' ? set : null;
  set();
}
