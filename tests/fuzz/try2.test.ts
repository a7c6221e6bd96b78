import { join } from "node:path";
import { it } from "vitest";
import { readBytes } from "../../src/io/read-bytes.js";
import { readerCorpus,fuzzCase } from "./fuzz-reader.js";
it("try", async () => {
  const corpus = readerCorpus(join(import.meta.dirname, "..", "fixtures"));
  for (const [s,i] of [[2,984],[1,1817]]) {
    const c = fuzzCase(corpus, s, i);
    const text = new TextDecoder("latin1").decode(c.bytes);
    console.log(s,i,c.made,c.bytes.length,JSON.stringify(text.slice(0,300)),"...",JSON.stringify(text.slice(2000,2200)));
  }
  const enc = new TextEncoder();
  const head = "Sample;Birch\nTemperature (°C);Frequency (Hz);E' (MPa);tan delta\n";
  const row = (i:number)=>`${(-60+i*0.001).toFixed(3)};10;${(1000-i*0.0001).toFixed(4)};0.5`;
  const kinds: Record<string,(n:number)=>string> = {
    rows: n => head + Array.from({length:n},(_,i)=>row(i)).join("\n"),
    "blank between": n => head + Array.from({length:n},(_,i)=>row(i)).join("\n\n"),
    "blank every 3": n => head + Array.from({length:n},(_,i)=>row(i)+(i%3===0?"\n":"")).join("\n"),
    "header every row": n => Array.from({length:n},(_,i)=>head+row(i)+"\n"+row(i+1)).join("\n"),
    "title every 3": n => head + Array.from({length:n},(_,i)=>(i%3===0?`Frequency: ${1+i%50} Hz\n`:"")+row(i)).join("\n"),
    "words": n => head + Array.from({length:n},(_,i)=>"some words here "+i).join("\n"),
    "bad cells": n => head + Array.from({length:n},(_,i)=>row(i).replace("0.5","---")).join("\n"),
    "samples": n => "Sample;T (°C);f (Hz);E' (MPa);tan delta\n" + Array.from({length:n},(_,i)=>`S${i>>2};`+row(i)).join("\n"),
    "rebound": n => "Sample;T (°C);Rebound (%)\n" + Array.from({length:n},(_,i)=>`S${i>>2};23;45.${i%10}`).join("\n"),
    "rebound blank": n => "Sample;T (°C);Rebound (%)\n" + Array.from({length:n},(_,i)=>`S${i>>2};23;45.${i%10}`).join("\n\n"),
    "wide header": n => Array.from({length:n},(_,i)=>"E' (MPa)").join(";")+"\n"+Array.from({length:n},()=>"1").join(";")+"\n",
    "quotes": n => head + '"'.repeat(n)+"\n"+row(1)+"\n"+row(2),
    "open quotes": n => head + Array.from({length:n},()=>'"a;b').join("\n")+"\n"+row(1)+"\n"+row(2),
    "colon": n => "a:".repeat(n)+"\n"+head+row(1)+"\n"+row(2),
    "statements": n => Array.from({length:n},(_,i)=>`Name ${i}: value ${i}`).join("\n")+"\n"+head+row(1)+"\n"+row(2),
    "loops": n => head + Array.from({length:n},(_,i)=>row(i%2?i:-i)).join("\n"),
  };
  for (const [k,make] of Object.entries(kinds)) {
    const out=[];
    for (const n of [2000,8000,32000]) { const b=enc.encode(make(n)); const t=performance.now(); const o=await readBytes(b,"x.csv"); out.push(`${n}: ${(performance.now()-t).toFixed(0)} ms ${o.ok?o.value.measurements.length:o.problem.code}`); }
    console.log(k.padEnd(18), out.join(" | "));
  }
});
