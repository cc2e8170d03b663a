// A picture of the top of a page. Usage: picture.js BROWSER PAGE PNG
'use strict';
const { chromium } = require('playwright-core');
const [browserPath, page, png] = process.argv.slice(2);
(async () => {
  const browser = await chromium.launch({ executablePath: browserPath, args: ['--no-sandbox', '--disable-gpu'] });
  const tab = await browser.newPage({ viewport: { width: 1000, height: 860 }, colorScheme: 'light' });
  await tab.goto('file://' + page);
  await tab.screenshot({ path: png });
  await browser.close();
})().catch((error) => { console.error(error); process.exit(1); });
