declare module '@lhncbc/ucum-lhc' {
  /** The part of the library that the checks use; the package ships no types. */
  export class UcumLhcUtils {
    static getInstance(): UcumLhcUtils;
    convertUnitTo(
      from: string,
      value: number,
      to: string,
    ): { readonly status: 'succeeded' | 'failed' | 'error'; readonly toVal: number | null };
  }
}
