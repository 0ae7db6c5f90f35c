// "Speed limiter seal missing on 88": another vehicle of the fleet, by its number.
import type { Sign, SignExamples } from './sign.ts';

export const vehicleByNumber: Sign = {
  name: 'vehicle-by-number',
  verdict: 'drop',
  where: 'message',
  every: true,
  words:
    /\bon (?:the )?(?:[2-9]\d(?=\s*(?:$|[,;!?])| (?:needs?|is|has|hanging|again|tomorrow|today|next)\b)|\d{3,4}(?=\W|$)(?![.,:-]\d)(?! ?(?:n?m|n·m|newton|bar|mm|km|miles?|deg\w*|l|ltr|litres?|liters?|°\w?|psi|and|to|or|then)\b))/i,
  unless: /\b(?:clock|gauge|dial|stage|rail|reading|nm|bar|torqued?|tightened|now|it)\b/i,
};

export const examples: SignExamples = {
  yes: ['coolant drained on 88', 'rocker cover off on 309, upper deck'],
  no: ['coolant drained', 'codes in on 1, 3 and 5'],
};
