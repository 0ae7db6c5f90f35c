/** A wrong setting: what, and what to do. */
export class TeamsTrouble extends Error {
  readonly what: string;
  readonly doThis: string;
  constructor(what: string, doThis: string) {
    super(`${what} ${doThis}`);
    this.what = what;
    this.doThis = doThis;
  }
}
