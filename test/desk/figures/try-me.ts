import { FIGURE_KINDS } from '../../../src/desk/figures/index.ts';
import { readAsked } from '../../../src/desk/figures/asking/asked.ts';
import { answerFigure } from '../../../src/desk/figures/answer-figure.ts';
import { sampleView } from './sample-view.ts';
import { parse } from 'yaml';
import { readFileSync } from 'node:fs';
import { workCalendar } from '../../../src/trade/work-calendar.ts';
const tools = parse(readFileSync('/work/main/data/tools.yaml','utf8')).tools;
const shift=[{name:'early',from:'06:00',to:'14:00',breaks:[{from:'10:00',to:'10:20'}]},{name:'late',from:'14:00',to:'22:00',breaks:[{from:'18:00',to:'18:30'}]}];
const cal = workCalendar({zone:'Europe/London', week:{mon:shift,tue:shift,wed:shift,thu:shift,fri:shift}});
const around = { tools, calendar: cal.ok?cal.value:undefined, mayHours: true } as any;
const today='2026-03-04T09:00:00Z';
for (const kind of FIGURE_KINDS) for (const ex of kind.examples) {
  const view = ex.plan ? sampleView(ex.plan) : undefined;
  const asked = readAsked(ex.type)!;
  const got = kind.read(asked, {view, today, ...around});
  const same = JSON.stringify((got as any)?.inputs) === JSON.stringify(ex.means);
  const others = FIGURE_KINDS.filter(k => k!==kind && k.read(asked,{view,today,...around})!==undefined).map(k=>k.kind);
  const a = answerFigure(ex.type, view, today, around);
  console.log((same?'ok ':'BAD'), kind.kind, '|', ex.type, others.length?`ALSO ${others}`:'');
  if(!same) console.log('   got', JSON.stringify(got), '\n   want', JSON.stringify(ex.means));
  console.log('    ', a?.kind, '→', a?.card.text, a?.card.actions?.map(x=>(x.intent as any).text) ?? '');
}
