// The parts of two packages without types that the tests ask for a second opinion.
declare module '@lhncbc/ucum-lhc' {
  export const UcumLhcUtils: {
    getInstance(): {
      convertUnitTo(
        from: string,
        value: number,
        to: string,
      ): { readonly status: string; readonly toVal: number | null };
    };
  };
}

declare module 'vin-validator' {
  const validator: { validate(vin: string): boolean };
  export default validator;
}
