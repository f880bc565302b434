/** One column on a telephone, two on a screen and on paper; every part keeps its heading. */
export const SHEET_STYLE: string = `
.sheet{max-width:56rem}
.sheet h1{margin:.1rem 0 .5rem}
.sheet h2{font-size:.95rem;margin:0 0 .25rem;padding:0;border:0}
.facts{display:grid;grid-template-columns:minmax(0,1fr) minmax(0,1fr);gap:1rem 2rem;margin:1rem 0}
.facts>section{border-top:1px solid var(--rule);padding-top:.4rem;min-width:0}
.across{grid-column:1/-1}
.sheet dl{display:grid;grid-template-columns:fit-content(45%) minmax(0,1fr);gap:.1rem .8rem;margin:0;font-size:.82rem;line-height:1.4}
.sheet dt{color:var(--quiet)}
.sheet dd bdi{overflow-wrap:anywhere}
.sheet dd{margin:0;overflow-wrap:anywhere;font-variant-numeric:tabular-nums}
.sheet ul{margin:.2rem 0;padding-left:1.1rem;font-size:.82rem;line-height:1.4}
.digest{font-size:.74rem}
.signed h2{margin-top:1rem}
.sign{display:grid;grid-template-columns:repeat(3,minmax(0,1fr));gap:1rem 1.5rem;margin-top:.3rem}
.sign div{border-bottom:1px solid var(--ink);height:3.2rem}
.sign p{margin:.2rem 0 0;font-size:.78rem;color:var(--quiet)}
@media (max-width:36rem){.facts,.sign{grid-template-columns:minmax(0,1fr)}.sheet dl{grid-template-columns:minmax(0,1fr)}.sheet dd{margin-bottom:.3rem}}
@media print{
@page{margin:11mm 14mm}
.facts{gap:1.2mm 6mm;margin:1.5mm 0}
.sheet .verdict{margin:1.5mm 0}
.sheet .verdict p{margin:.3mm 0;font-size:8pt;line-height:1.25;max-width:none}
.sheet section .small{margin:.3mm 0;font-size:7.5pt}
.sheet footer p{margin:0;font-size:7pt}
.sheet dl,.sheet ul{font-size:7.4pt;line-height:1.22}
.sheet h1{font-size:14pt}
.sheet h2{font-size:9pt}
.digest{font-size:6.6pt}
.signed{break-inside:avoid}
.signed h2{margin-top:2mm}
.sign{margin-top:0}
.sign div{height:7.5mm}
.sign p{font-size:7.5pt}
.sheet footer{margin-top:2mm;padding-top:1mm}
}
`;
