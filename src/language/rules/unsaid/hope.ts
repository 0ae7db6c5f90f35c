// "No leaks, I hope": a hope is asked about.
import type { Sign, SignExamples } from './sign.ts';

export const hope: Sign = {
  name: 'hope',
  verdict: 'ask',
  where: 'message',
  words:
    /\b(?:i hope|hopefully|fingers crossed|touch wood|with (?:any |a bit of )?luck|hoffentlich|toi toi)\b|\b(?:no|keine?) \w+(?: \w+)? (?:so far|bisher|bis jetzt)\b|\bso far (?:no|so good)\b/i,
};

export const examples: SignExamples = {
  yes: ['no leaks i hope', 'no leaks so far', 'clamps torqued fingers crossed'],
  no: ['no leaks'],
};
