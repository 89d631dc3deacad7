import { readTrace } from './read.ts'
import { seeText } from './sniff.ts'
import { linesOf } from './cells.ts'
import { syntheticTrace } from './synthetic.ts'
import { binned } from './bins.ts'
import { withoutSpikes, piecesOf, rangeOf, creepOf } from './pieces.ts'
import { proposeSegments } from './propose.ts'
import { thinned } from './thin.ts'
const { raw } = syntheticTrace({ seed: 1, barkCm: 1.2, stepCm: 0.001, segments: [
 { fromCm: 1.2, toCm: 9, condition: 'sound' },{ fromCm: 9, toCm: 12, condition: 'softened-brittle' },
 { fromCm: 12, toCm: 30, condition: 'void' },{ fromCm: 30, toCm: 40, condition: 'sound' }] })
for (let k=0;k<8;k++){
const t:number[]=[performance.now()]; const n=()=>t.push(performance.now())
linesOf(raw);n(); seeText(raw);n()
const r=readTrace(raw,{depthUnit:'mm',depthColumn:0,resistanceColumn:1}); n()
if(!r.ok) throw 0
const b=binned(r.value);n(); const e=withoutSpikes(b);n(); const range=rangeOf(e); const p=piecesOf(e,range);n(); creepOf(e,p,range);n(); thinned(r.value.depthsCm,r.value.resistances);n(); proposeSegments(r.value);n()
console.log(['lines','see','read','bin','hampel','pieces','creep','thin','PROPOSE'].map((x,i)=>x+' '+(t[i+1]-t[i]).toFixed(1)).join(' | '), b[0].values.length)}
