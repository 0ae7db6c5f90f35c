/** Messages that wait for a choice of job are kept under this mark. */
export const chooseMark = (delivery: string): string => `choose:${delivery}`;
