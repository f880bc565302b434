/** Paper and ink, by day and by night. Print always has the first. */
export const DAY_COLOURS: string =
  '--paper:#fff;--ink:#1b1b1b;--quiet:#565656;--rule:#8a8a8a;--faint:#d4d4d4;--wash:#f4f2ee;--blue:#0b4f8a;--red:#a8321a;--land:#fff';
export const NIGHT_COLOURS: string =
  '--paper:#15171a;--ink:#e9e7e2;--quiet:#b3b0aa;--rule:#8b8983;--faint:#3b3d41;--wash:#1f2226;--blue:#8fc1f0;--red:#ff9b80;--land:#15171a';

/** The look of drawings, on a page and alone. */
export const FIGURE_STYLE: string = `svg text{font:12px system-ui,"Segoe UI",Roboto,"Helvetica Neue",Arial,"Liberation Sans","DejaVu Sans",sans-serif;fill:var(--ink)}
text{visibility:var(--letters,visible)}
svg .q{fill:var(--quiet)}
svg .s{font-size:10.5px}
svg .e{text-anchor:end}
svg .m{text-anchor:middle}
svg .halo{paint-order:stroke;stroke:var(--paper);stroke-width:3px;stroke-linejoin:round}
.axis{stroke:var(--ink);fill:none;stroke-width:1}
.grid{stroke:var(--faint);fill:none;stroke-width:1}
.spread{stroke:var(--rule);fill:none;stroke-width:1}
.ring{stroke:var(--rule);fill:none;stroke-width:1;stroke-dasharray:2 4}
.disc{fill:var(--faint);stroke:none}
.ray{stroke:var(--rule);fill:none;stroke-width:.7}
.dots{stroke:var(--blue);fill:none;stroke-width:3;stroke-linecap:round}
.off{stroke:var(--red);fill:none;stroke-width:1.2}
.blue{stroke:var(--blue);fill:none;stroke-width:1.4}
.mark{fill:var(--blue);stroke:var(--paper);stroke-width:.8}
.doubt{fill:var(--paper);stroke:var(--ink);stroke-width:1.3}
.bad{fill:none;stroke:var(--red);stroke-width:var(--heavy,1.6)}
.base{fill:var(--ink);stroke:var(--paper);stroke-width:1}
.limit{stroke:var(--red);fill:none;stroke-width:.8;stroke-dasharray:4 3}
.dash{stroke-dasharray:5 3}
.dotted{stroke-dasharray:1.5 3}
.ink{fill:var(--ink)}.inkline{stroke:var(--ink);fill:none;stroke-width:1.2}
.tint{fill:var(--ink);stroke:var(--ink);stroke-width:.8}
svg .l{font-size:8.5px}
svg .on{fill:var(--paper)}
.gone{fill:var(--red);fill-opacity:.16}
.paper{fill:var(--paper)}.wash{fill:var(--wash)}`;

/** The look of every page: one column of text, rules above and below tables, nothing that moves. */
export const PAGE_STYLE: string = `
:root{color-scheme:light dark;${DAY_COLOURS}}
@media (prefers-color-scheme:dark){:root{${NIGHT_COLOURS}}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.5 Charter,"Bitstream Charter","Sitka Text",Cambria,Georgia,"Liberation Serif","DejaVu Serif",serif;overflow-wrap:break-word}
.page{max-width:76rem;margin:0 auto;padding:2.5rem 1.25rem 3rem}
header p,main>section>p,main>section>ul,.lead{max-width:44rem}
h1{font-size:1.75rem;line-height:1.2;font-weight:600;margin:.2rem 0 1rem;max-width:44rem}
h2{font-size:1.25rem;line-height:1.3;font-weight:600;margin:2.75rem 0 .6rem;padding-top:.6rem;border-top:1px solid var(--rule)}
h3{font-size:1rem;font-weight:600;margin:0 0 .2rem}
p{margin:.5rem 0}
a{color:var(--blue)}
.kicker,.contents,caption,table,figcaption,.small,dl{font-family:system-ui,"Segoe UI",Roboto,"Helvetica Neue",Arial,"Liberation Sans","DejaVu Sans",sans-serif}
.kicker{font-size:.8rem;color:var(--quiet);margin:0}
.small{font-size:.8rem;color:var(--quiet)}
.verdict{border-left:.3rem double var(--ink);padding-left:.9rem;margin:1.2rem 0}
.verdict p{margin:.3rem 0}
.contents{font-size:.85rem;padding:0;margin:1rem 0 0;list-style:none;display:flex;flex-wrap:wrap;gap:.2rem 1.2rem}
.contents a{display:inline-block;padding:.25rem 0}
.scroll{overflow-x:auto;margin:.9rem 0}
.scroll:focus-visible{outline:2px solid var(--blue);outline-offset:2px}
table{--gap:.55rem;border-collapse:collapse;font-size:.8rem;line-height:1.35;font-variant-numeric:tabular-nums;border-bottom:1.5px solid var(--ink)}
caption{text-align:left;font-size:.85rem;padding:0 0 .4rem;max-width:min(44rem,calc(100vw - 2.6rem));position:sticky;left:0}
thead{border-top:1.5px solid var(--ink);border-bottom:1px solid var(--ink)}
th,td{padding:.22rem var(--gap);text-align:left;vertical-align:top;font-weight:400}
thead th{vertical-align:bottom;font-weight:600}
tbody th{font-weight:600}
tr:first-child>:first-child,td:first-child,th:first-child{padding-left:0}
.n{text-align:right;white-space:nowrap}
thead th.n{white-space:normal}
.z1{padding-right:calc(var(--gap) + 1ch)}.z2{padding-right:calc(var(--gap) + 2ch)}.z3{padding-right:calc(var(--gap) + 3ch)}
.y1{padding-right:calc(var(--gap) + 1.5ch)}.y2{padding-right:calc(var(--gap) + 2.5ch)}.y3{padding-right:calc(var(--gap) + 3.5ch)}.y4{padding-right:calc(var(--gap) + 4.5ch)}
.w{max-width:18rem}
.w bdi,.verdict bdi{white-space:nowrap}
.w .l,.w .x,.verdict .l,.verdict .x{white-space:normal}
.w .x{overflow-wrap:anywhere}
th.w .x{display:inline-block;min-width:6.5rem}
.p{overflow-wrap:anywhere;min-width:9rem;max-width:34rem}
td.c{min-width:17rem}
.unit{display:block;font-weight:400;color:var(--quiet)}
tbody tr{border-top:1px solid var(--faint)}
.no{font-weight:600}
.d{white-space:nowrap}
figure{margin:1rem 0 1.6rem}
figcaption{font-size:.82rem;line-height:1.45;max-width:44rem;margin-top:.5rem}
svg{display:block;width:100%;height:auto}
.wide svg{min-width:34rem;max-width:54rem}
.whole-one{display:none}
.stands{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,33rem),1fr));gap:1.4rem 2.2rem;margin-top:1rem}
.stand{border-top:1px solid var(--rule);padding-top:.5rem;min-width:0}
.stand figure{margin:.3rem 0;display:grid;grid-template-columns:minmax(0,2fr) minmax(0,3fr);gap:.6rem;align-items:start}
.stand figcaption{grid-column:1/-1;margin:0}
@media (max-width:70rem){tbody th{position:sticky;left:0;background:var(--paper);background-clip:padding-box}}
@media (max-width:64rem){.page{padding-left:1rem;padding-right:1rem}table{--gap:.18rem;font-size:.69rem}th.c,td.c{min-width:5.5rem}}
@media (max-width:48rem){tbody th{max-width:8rem}}
@media (max-width:36rem){table{--gap:.27rem;font-size:.74rem}td.w .x{display:inline-block;min-width:11rem}td code{white-space:nowrap}th.c,td.c{min-width:15rem}.stand svg:first-child{max-width:17rem}.stand figure{grid-template-columns:minmax(0,1fr)}.page{padding-top:1.25rem}}
@media screen and (max-width:36rem){.wide .whole-one{display:block;min-width:0;margin:.3rem 0;--letters:hidden;--heavy:3.2}.wide::before{content:"The whole figure, small and without its words. With them below: it scrolls sideways.";font:.8rem system-ui,"Segoe UI",Roboto,"Helvetica Neue",Arial,"Liberation Sans","DejaVu Sans",sans-serif;color:var(--quiet)}}
.stand table{font-size:.74rem}
.cautions{border:1px solid var(--rule);padding:.4rem 1rem .4rem 2rem;max-width:46rem}
.cautions li{margin:.3rem 0}
h4{font-size:.95rem;font-weight:600;margin:.8rem 0 .2rem}
.worked{font:.8rem ui-monospace,"Cascadia Mono",Menlo,Consolas,"Liberation Mono","DejaVu Sans Mono",monospace;white-space:pre-wrap;overflow-wrap:anywhere}
.columns{white-space:pre;overflow-wrap:normal;overflow-x:auto}
.worked+.worked{margin-top:-.5rem}
.columns+.worked{margin-top:.2rem}
code{font:.85em ui-monospace,"Cascadia Mono",Menlo,Consolas,"Liberation Mono","DejaVu Sans Mono",monospace;overflow-wrap:anywhere}
footer{margin-top:3rem;border-top:1px solid var(--rule);padding-top:.6rem}
${FIGURE_STYLE}
@media print{
:root{color-scheme:light;${DAY_COLOURS}}
@page{size:A4;margin:16mm 14mm}
html{font-size:10pt}
body{font-size:9.5pt}
.page{max-width:none;padding:0}
.contents{display:none}
h2,h3,h4,caption,thead,p:has(+.scroll){break-after:avoid}
.worked+p,.scroll+p{break-before:avoid}
tbody tr:first-child,tbody tr:nth-child(2){break-before:avoid}
h2{margin-top:1.6rem}
footer{break-before:avoid;margin-top:.5rem;padding-top:.3rem}
.cautions{margin-bottom:.3rem;padding:.2rem 1rem .2rem 2rem}
.cautions li{margin:.12rem 0}
section:last-of-type{margin-bottom:.4rem}
figure.wide{display:grid;grid-template-columns:132mm minmax(0,1fr);gap:4mm;align-items:start;margin:.4rem 0 .6rem}
.wide .scroll,.wide figcaption{margin:0}
tr,caption,.stand,.verdict,.cautions,.cautions li,.small,.whole,figure,.kept,.end{break-inside:avoid}
thead{display:table-header-group}
th.w .x{min-width:4rem}
.scroll{overflow:visible}
.columns{overflow:visible;font-size:6.8pt}
.wide svg{min-width:0;max-height:104mm}
table{--gap:.2rem;font-size:6.8pt}
td.n{white-space:normal}
table:has(td.c) td.n{white-space:nowrap}
th,td{padding-top:.12rem;padding-bottom:.12rem}
.p,td.c{min-width:5rem}
caption{position:static;max-width:none;font-size:8pt}
figcaption{font-size:8pt}
tbody th{position:static}
.stands{grid-template-columns:1fr;gap:.8rem}
.stand figure{grid-template-columns:52mm 76mm minmax(0,1fr)}
.stand figcaption{grid-column:3}
a{color:inherit;text-decoration:none}
}
`;
