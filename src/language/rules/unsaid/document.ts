// "Book says 1.2 bar": what a document says nobody has done.
import type { Sign, SignExamples } from './sign.ts';

export const document: Sign = {
  name: 'document',
  verdict: 'drop',
  where: 'message',
  words:
    /(?:^|[,;.] *)(?:the )?(?:book|manual|job ?card|card|sheet|spec|handbook|procedure|paperwork|instructions?) (?:says?|said|wants?|reckons?|asks for|calls for|has it)\b|\b(?:says|it says|written|down as) .*\b(?:on|in) the (?:job ?card|book|manual|sheet|card|spec)\b/i,
};

export const examples: SignExamples = {
  yes: ['book says pressure test 1.2 bar', 'pressure test says 1.2 on the job card'],
  no: ['pressure test 1.2 bar'],
};
