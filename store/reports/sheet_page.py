"""The fixed parts of the sheet's page: how it looks, and how it saves what is typed.

The script is well-formed XML as it stands, like the page: no `<` and no `&`.
"""

from __future__ import annotations

STYLE = """
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { font: 15px/1.35 system-ui, sans-serif; max-width: 60rem; margin: 0 auto; padding: .5rem;
  color: #000; background: #fff; }
h1 { font-size: 1.2rem; margin: .2rem 0; }
h2 { font-size: 1rem; margin: 0; }
p { margin: .15rem 0; }
section { border-top: 2px solid #000; padding: .3rem 0; break-inside: avoid; }
.boxes { display: flex; flex-wrap: wrap; gap: .3rem .8rem; margin: .25rem 0; }
.boxes label { display: flex; align-items: center; gap: .3rem; }
.boxes .wide { flex: 1 1 14rem; }
.wide input { flex: 1; min-width: 6rem; }
input, select, button { font: inherit; padding: .3rem; border: 1px solid #000; background: #fff;
  color: #000; }
input[type=number] { width: 5.5rem; }
input[type=checkbox] { width: 1.2rem; height: 1.2rem; }
.cautions { border-top: 2px solid #000; font-size: .85rem; }
.paper { display: none; }
@page { margin: 9mm; }
@media print {
  body { font-size: 8pt; line-height: 1.2; max-width: none; padding: 0; }
  .screen { display: none; }
  .paper { display: inline; }
  h2 { font-size: 9pt; }
  section { padding: .1rem 0; border-top-width: 1px; }
  .boxes { margin: .1rem 0; gap: .1rem .6rem; flex-wrap: nowrap; }
  .boxes .wide { flex: 1; }
  input, select { padding: 0; height: 5mm; }
  input[type=number] { width: 16mm; }
  input[type=checkbox] { width: 3.5mm; height: 3.5mm; }
  .cautions { font-size: 6.5pt; line-height: 1.1; columns: 2; border-top-width: 1px; }
}
"""

SCRIPT = """
const byId = id => document.getElementById(id);
const quoted = text => '"' + text.replace(/"/g, '""').replace(/[\\r\\n]+/g, ' ') + '"';
function rows() {
  const names = JSON.parse(document.body.dataset.columns);
  const lines = [names.join(',')];
  for (const section of document.querySelectorAll('section[data-station]')) {
    const said = { date: byId('date').value, station: section.dataset.station };
    for (const field of section.querySelectorAll('[data-column]')) {
      said[field.dataset.column] = field.value.trim();
    }
    const ticks = [...section.querySelectorAll('[data-chore]')].filter(tick => tick.checked);
    said.done = ticks.map(tick => tick.dataset.chore).join('; ');
    if (names.slice(2).some(name => said[name])) {
      lines.push(names.map(name => quoted(said[name] || '')).join(','));
    }
  }
  return lines;
}
byId('save').addEventListener('click', () => {
  const lines = rows();
  if (lines.length === 1) {
    byId('said').textContent = 'Nothing is filled in yet, so there is nothing to save.';
    return;
  }
  const link = document.createElement('a');
  const text = lines.join('\\n') + '\\n';
  link.href = URL.createObjectURL(new Blob([text], { type: 'text/csv' }));
  link.download = 'sheet-' + byId('date').value + '.csv';
  link.click();
  byId('said').textContent = 'Saved ' + link.download + '. Bring it in with: '
    + 'brimbook import LOGBOOK sheet ' + link.download;
});
"""

POLICY = "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'"
"""Keeps the page from loading anything at all."""
