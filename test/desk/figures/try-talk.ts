import { answerFigure } from '../../../src/desk/figures/answer-figure.ts';
import { sampleView } from './sample-view.ts';
import { parse } from 'yaml';
import { readFileSync, readdirSync, existsSync } from 'node:fs';
const tools = parse(readFileSync('data/tools.yaml','utf8')).tools;
const views: any = {};
let n=0;
for (const f of readdirSync('data/corpus').filter(f=>f.endsWith('.jsonl'))) for (const line of readFileSync('data/corpus/'+f,'utf8').split('\n')) {
  if(!line.trim()) continue; const row=JSON.parse(line); n++;
  const v = views[row.plan] ??= sampleView(row.plan);
  for (const view of [v, undefined]) { const a=answerFigure(row.text, view, '2026-03-04', {tools}); if (a) console.log(row.id, !!view, a.kind, '|', row.text,'|', row.acts.map((x:any)=>x.kind+':'+(x.command??'')).join(), '→', a.card.text.slice(0,90)); }
}
console.log(n,'corpus');
let m=0, hits=0;
for (const line of readFileSync('../shared/open-data/chat-lines.txt','utf8').split('\n')) { m++; for (const v of [undefined, views['injectors-six-cylinder'], views['coolant-pump']]) { const a=answerFigure(line, v,'2026-03-04',{tools}); if(a){hits++;console.log('CHAT',a.kind,'|',line,'→',a.card.text.slice(0,100));} } }
for (const f of ['messages-sample.jsonl']) for (const line of readFileSync('../shared/'+f,'utf8').split('\n')) { if(!line.trim())continue; const r=JSON.parse(line); const a=answerFigure(r.text, views['injectors-six-cylinder'],'2026-03-04',{tools}); if(a)console.log('SAMPLE',a.kind,'|',r.text, JSON.stringify(r.acts??r).slice(0,120)); }
for (const f of readdirSync('data/demo').filter(f=>f.endsWith('.jsonl'))) for (const line of readFileSync('data/demo/'+f,'utf8').split('\n')) { if(!line.trim())continue; const r=JSON.parse(line); const a=r.text&&answerFigure(r.text, views['injectors-six-cylinder'],'2026-03-04',{tools}); if(a)console.log('DEMO',a.kind,'|',r.text); }
console.log(m, hits);
for (const f of readdirSync('test/chatter')) for (const line of readFileSync('test/chatter/'+f,'utf8').split('\n')) for (const v of [undefined, views['injectors-six-cylinder'], views['hub-bearing']]) { const a=line&&answerFigure(line,v,'2026-03-04',{tools}); if(a)console.log('CHATTER',f,a.kind,line); }
