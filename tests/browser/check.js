// Opens every page that run.sh made and checks what a person would meet. Usage: check.js BROWSER SCRATCH
'use strict';
const fs = require('fs');
const path = require('path');
const { chromium } = require('playwright-core');
const axe = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
const [browserPath, scratch] = process.argv.slice(2);
const pages = path.join(scratch, 'pages');
const mostBytes = 5e6;

let passed = 0;
const faults = [];
function check(what, holds, detail) {
  if (holds) ++passed;
  else faults.push(`${what}${detail ? ': ' + detail : ''}`);
}

/** Cells of a CSV file, quotes taken off. */
function csvRows(text) {
  const rows = [[]];
  let cell = '', quoted = false;
  for (let i = 0; i < text.length; ++i) {
    const c = text[i];
    if (quoted) {
      if (c === '"' && text[i + 1] === '"') { cell += c; ++i; }
      else if (c === '"') quoted = false;
      else cell += c;
    } else if (c === '"') quoted = true;
    else if (c === ',' || c === '\n') {
      rows[rows.length - 1].push(cell);
      cell = '';
      if (c === '\n') rows.push([]);
    } else cell += c;
  }
  rows.pop();
  return rows;
}
/** As people are shown it: no apostrophe before a formula, no character that turns the writing. */
const asShown = (cell) => cell.replace(/^'(?=[=+\-@\t\r\n])/, '').replace(/[\u0000-\u001f\u007f-\u009f\u200b-\u200f\u202a-\u202e\u2060-\u2069]/g, '?').trim();

async function accessible(page, what) {
  await page.evaluate(axe);
  const result = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
  check(`${what}: accessibility`, result.violations.length === 0,
    result.violations.map((v) => `${v.id} (${v.nodes.length}): ${v.nodes[0].html.slice(0, 160)} ${v.nodes[0].failureSummary.replace(/\s+/g, ' ').slice(0, 200)}`).join(' | '));
}

(async () => {
  const browser = await chromium.launch({ executablePath: browserPath, args: ['--no-sandbox', '--disable-gpu'] });
  const names = fs.readdirSync(pages).filter((f) => f.endsWith('.html')).map((f) => f.replace('.html', ''));
  for (const name of names) {
    const file = path.join(pages, name + '.html');
    const bytes = fs.statSync(file).size;
    check(`${name}: under 5 MB`, bytes < mostBytes, `${bytes} bytes`);
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    const page = await context.newPage();
    const said = [], requests = [];
    page.on('console', (message) => { if (['error', 'warning'].includes(message.type())) said.push(message.text()); });
    page.on('pageerror', (error) => said.push(String(error)));
    page.on('dialog', (dialog) => { said.push('dialog ' + dialog.message()); dialog.dismiss(); });
    page.on('request', (request) => requests.push(request.url()));
    const began = Date.now();
    await page.goto('file://' + file);
    const loadMs = Date.now() - began;
    check(`${name}: title`, !(await page.title()).includes('taken'), await page.title());

    // What was asked, the answer, each picture drawn, the table as the CSV has it.
    check(`${name}: asked`, (await page.textContent('.asked')).includes('wiltline '));
    const undrawn = await page.$$eval('figure', (all) => all.filter((f) => !f.querySelector('svg path, svg rect, table td, input')).length);
    const drawn = await page.$$eval('figure', (all) => all.length);
    check(`${name}: pictures drawn`, undrawn === 0 && (drawn > 0 || name === 'list'), `${undrawn} of ${drawn} empty`);
    const table = await page.$$eval('#figures tr', (rows) => rows.map((row) => [...row.children].map((cell) => cell.textContent)));
    const csv = csvRows(fs.readFileSync(path.join(pages, name + '.csv'), 'utf8'));
    check(`${name}: heads`, JSON.stringify(table[0]) === JSON.stringify(csv[0].map((head) => head.replace(/_/g, ' '))));
    check(`${name}: as many rows as the CSV`, table.length === csv.length, `${table.length} and ${csv.length}`);
    const differing = csv.slice(1).flatMap((row, r) => row.map((cell, c) => [asShown(cell), (table[r + 1] || [])[c], r, c])
      .filter(([a, b]) => a !== (b === undefined ? b : b.trim())));
    check(`${name}: table equals CSV`, differing.length === 0, JSON.stringify(differing[0]));
    for (const figure of await page.$$('figure')) {
      const svg = await figure.$('svg');
      if (!svg) continue;
      check(`${name}: picture has words`, ((await svg.getAttribute('aria-label')) || '').length > 20);
      const summary = await figure.$('summary');
      await summary.focus();
      await page.keyboard.press('Enter');
      // Opening is told to the page after the key.
      const row = await figure.waitForSelector('details table tbody tr', { state: 'attached', timeout: 5000 }).catch(() => null);
      check(`${name}: figures behind the picture`, row !== null);
    }

    // By keyboard: every control is reached, the day moves, a pot is chosen.
    await page.evaluate(() => { document.activeElement.blur(); window.scrollTo(0, 0); });
    const slider = await page.$('input[type=range]');
    if (slider) {
      let reached = '';
      for (let i = 0; i < 12 && reached !== 'range'; ++i) {
        await page.keyboard.press('Tab');
        reached = await page.evaluate(() => document.activeElement.type || '');
      }
      check(`${name}: slider reached by Tab`, reached === 'range', reached);
      const before = await page.textContent('[aria-live]');
      await page.keyboard.press('ArrowLeft');
      const after = await page.textContent('[aria-live]');
      check(`${name}: arrow moves the day`, before !== after, after);
      const outline = await page.evaluate(() => getComputedStyle(document.activeElement).outlineWidth);
      check(`${name}: focus is seen`, parseFloat(outline) >= 2, outline);
      const select = await page.$('select');
      if (select) {
        const chosenAt = Date.now();
        const other = await select.evaluate((s) => s.selectedIndex === 1 ? 2 : 1);
        await select.selectOption({ index: other });
        const label = await page.$eval('figure svg', (svg) => svg.getAttribute('aria-label'));
        const option = await page.$eval('select', (s) => s.selectedOptions[0].textContent);
        check(`${name}: the pot chosen is drawn`, label.startsWith(option), label);
        const drawMs = Date.now() - chosenAt;
        console.log(`${name}: ${bytes} bytes, opened in ${loadMs} ms, another pot in ${drawMs} ms`);
        check(`${name}: quick enough`, loadMs < 5000 && drawMs < 2000, `${loadMs} ms, ${drawMs} ms`);
      }
    }

    // On a desk and a phone, light and dark, and on paper.
    for (const scheme of ['light', 'dark']) {
      for (const [device, width] of [['desk', 1280], ['phone', 390]]) {
        await page.emulateMedia({ colorScheme: scheme });
        await page.setViewportSize({ width, height: 900 });
        await page.reload();
        const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
        check(`${name}, ${device}: no sideways scrolling`, overflow <= 0, `${overflow} px`);
        if (name !== 'many' && name !== 'ledger') await accessible(page, `${name}, ${device}, ${scheme}`);
        if (name !== 'many') await page.screenshot({ path: path.join(scratch, 'shots', `${name}-${device}-${scheme}.png`), fullPage: true });
      }
    }
    await page.setViewportSize({ width: 1000, height: 900 });
    await page.emulateMedia({ colorScheme: 'light' });
    await page.reload();
    if (name !== 'many') await page.pdf({ path: path.join(scratch, 'shots', `${name}-print.pdf`), format: 'A4', margin: { top: '12mm', bottom: '12mm', left: '12mm', right: '12mm' } });
    check(`${name}: nothing on the console`, said.length === 0, said.join(' | '));
    check(`${name}: asks for nothing`, requests.every((url) => url === 'file://' + file || url === 'data:,'), requests.join(' '));
    await context.close();
  }
  await browser.close();
  for (const fault of faults) console.log('FAULT ' + fault);
  console.log(`${passed} passed, ${faults.length} failed`);
  process.exit(faults.length === 0 && passed > 0 ? 0 : 1);
})().catch((error) => { console.error(error); process.exit(1); });
