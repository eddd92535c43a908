declare module 'wcag-contrast' {
  /** Contrast ratio of two colours by WCAG 2, 1 to 21. */
  export function hex(one: string, other: string): number;
}
