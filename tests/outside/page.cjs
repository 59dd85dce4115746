// Opens proof pages in Chromium, as a customer would on a phone and at a desk: drags, keys, wheel, pinch, the answer; without a
// network, without scripts, and printed. Prints one JSON object: by file a list of [what, whether it holds, detail].
const fs = require('fs');
const path = require('path');
const { pathToFileURL } = require('url');
const puppeteer = require(path.join(process.env.OUTSIDE_NODE, 'node_modules', 'puppeteer-core'));

const PHONE = { width: 360, height: 740, deviceScaleFactor: 2, isMobile: true, hasTouch: true };
const DESK = { width: 1440, height: 900, deviceScaleFactor: 1 };
const shots = process.env.PAGE_SHOTS;
// A machine that others share may take its time.
const PATIENCE = 180000;

class Found {
  constructor() {
    this.list = [];
  }

  is(what, holds, detail = '') {
    this.list.push([what, Boolean(holds), String(detail)]);
  }
}

const at = (page, id, key) => page.$eval(`#${id}`, (node, key) => node[key], key);
const said = (page) => page.$eval('#around', (node) => node.getAttribute('aria-valuetext'));
const count = (page, id) => page.$eval(`#${id}`, (node) => node.childNodes.length);
const middle = (page) => page.$eval('#stage', (node) => {
  const box = node.getBoundingClientRect();
  return [box.x + box.width / 2, box.y + box.height / 2, box.width, box.height];
});

async function open(browser, file, view, scripts) {
  const page = await browser.newPage();
  page.setDefaultTimeout(PATIENCE);
  page.setDefaultNavigationTimeout(PATIENCE);
  const asked = [];
  const errors = [];
  page.on('request', (request) => asked.push(request.url()));
  page.on('console', (message) => ['error', 'warning'].includes(message.type()) && errors.push(message.text()));
  page.on('pageerror', (error) => errors.push(String(error)));
  await page.setOfflineMode(true);
  await page.setJavaScriptEnabled(scripts);
  await page.setViewport(view);
  await page.goto(pathToFileURL(file).href, { waitUntil: 'load' });
  return { page, asked, errors };
}

async function picture(page, file, name, whole) {
  if (shots) {
    fs.mkdirSync(shots, { recursive: true });
    await page.screenshot({ path: path.join(shots, `${path.basename(path.dirname(file))}-${name}.png`), fullPage: whole });
  }
}

async function turning(page, found) {
  await page.evaluate(() => document.getElementById('stage').scrollIntoView());
  const [x, y, width] = await middle(page);
  const [before, start] = [await at(page, 'picture', 'src'), await said(page)];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x - width / 2 - 1, y, { steps: 24 });
  await page.mouse.up();
  const turned = await said(page);
  found.is('a drag turns the cake', before !== await at(page, 'picture', 'src') && turned !== start, `${start}, ${turned}`);
  // From one step at the right, four steps of 22.5 degrees on.
  found.is('a drag over half the picture turns it a quarter', turned.startsWith('113° round to the right'), turned);
  found.is('the picture is told in words', (await at(page, 'picture', 'alt')).includes(turned));
  await page.focus('#stage');
  await page.keyboard.press('ArrowRight');
  found.is('an arrow key turns it one step', (await said(page)).startsWith('135°'), await said(page));
  await page.keyboard.press('ArrowUp');
  found.is('an arrow key shows it from higher up', (await said(page)).endsWith('from higher up'), await said(page));
  await page.keyboard.press('Home');
  found.is('a key leads home', await said(page) === 'from the front', await said(page));
  await page.focus('#around');
  await page.keyboard.press('ArrowLeft');
  found.is('the slider turns it by key', (await said(page)).startsWith('23° round to the left'), await said(page));
  const decoded = await page.$eval('#picture', async (image) => { await image.decode(); return image.naturalWidth; });
  found.is('the picture is whole', decoded >= 480, decoded);
}

const scale = (page) => page.$eval('#sheet', (node) => new DOMMatrix(getComputedStyle(node).transform).a);

async function zooming(page, found) {
  const [x, y] = await middle(page);
  await page.mouse.move(x, y);
  await page.mouse.wheel({ deltaY: -300 });
  await page.waitForFunction(() => document.getElementById('stage').classList.contains('close'));
  const near = await scale(page);
  found.is('the wheel comes closer', near > 1.5, near);
  const words = await said(page);
  await page.mouse.down();
  await page.mouse.move(x + 40, y + 30, { steps: 5 });
  await page.mouse.up();
  found.is('from close, a drag looks about', words === await said(page));
  for (let press = 0; press < 6; press += 1) { await page.click('#farther').catch(() => {}); }
  found.is('a button goes back', await scale(page) === 1, await scale(page));
  const client = await page.createCDPSession();
  const touch = (type, spread) => client.send('Input.dispatchTouchEvent', {
    type, touchPoints: spread ? [{ x: x - spread, y, id: 1 }, { x: x + spread, y, id: 2 }] : [],
  });
  await touch('touchStart', 30);
  for (const spread of [40, 55, 70, 90]) { await touch('touchMove', spread); }
  await touch('touchEnd', 0);
  found.is('two fingers come closer', await scale(page) > 1.8, await scale(page));
  await page.focus('#stage');
  await page.keyboard.press('Home');
  found.is('a key steps back', await scale(page) === 1, await scale(page));
}

async function marking(page, found, facts) {
  for (const name of ['seams', 'sizes']) {
    const marks = `${name.slice(0, -1)}-marks`;
    if (await at(page, name, 'hidden')) {
      found.is(`${name} can be shown`, name === 'seams' && !facts.has_seams, 'the button is hidden');
      continue;
    }
    let seen = 0;
    await page.click(`#${name}`);
    await page.focus('#stage');
    for (let step = 0; step < 24; step += 1) {
      seen = Math.max(seen, await count(page, marks));
      await page.keyboard.press('ArrowRight');
    }
    const pressed = await page.$eval(`#${name}`, (node) => node.getAttribute('aria-pressed'));
    found.is(`${name} can be shown`, seen > 0 && pressed === 'true', seen);
    await page.click(`#${name}`);
    found.is(`${name} can be hidden`, await count(page, marks) === 0);
  }
}

async function answering(page, found, facts) {
  const text = () => at(page, 'text', 'value');
  found.is('the answer names cake and revision', (await text()).includes(facts.revision) && (await text()).includes(facts.title), await text());
  await page.type('#name', 'A. Customer');
  found.is('the answer is signed', (await text()).includes('Name: A. Customer'), await text());
  await page.click('#change');
  await page.type('#wish', 'A smaller bow, please.');
  const wish = await text();
  found.is('a change can be asked for', wish.startsWith('Please change') && wish.includes('A smaller bow') && wish.includes(facts.revision), wish);
  await page.click('#copy');
  await page.waitForFunction(() => document.getElementById('said').textContent.length > 0);
  const copied = await page.evaluate(() => navigator.clipboard.readText()).catch((error) => String(error));
  found.is('the answer is copied', copied.replace(/\r/g, '') === wish, copied);
  await page.click('#approve');
  found.is('approving is worded as such', (await text()).startsWith('I approve'), await text());
}

async function tree(page, found) {
  const all = await page.accessibility.snapshot({ interestingOnly: false });
  const nodes = [];
  const walk = (node) => { nodes.push(node); (node.children || []).forEach(walk); };
  walk(all);
  const unnamed = nodes.filter((node) => ['button', 'slider', 'textbox', 'radio', 'image', 'group'].includes(node.role) && !node.name && node.role !== 'group');
  found.is('everything to work with has a name', unnamed.length === 0, JSON.stringify(unnamed));
  const roles = new Set(nodes.map((node) => node.role));
  found.is('a reader finds headings, tables, a slider and buttons', ['heading', 'table', 'slider', 'button', 'radio'].every((role) => roles.has(role)), [...roles]);
  const order = await page.evaluate(() => {
    const shown = [...document.querySelectorAll('a, button, input, textarea, [tabindex="0"]')].filter((node) => node.checkVisibility());
    return shown.every((node) => node.tabIndex === 0);
  });
  found.is('all of it is reached by key', order);
}

async function fits(page, found, view) {
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  found.is(`nothing stands over the side at ${view.width} px`, wide <= view.width, wide);
  const small = await page.evaluate(() => [...document.querySelectorAll('button, input[type=range]')]
    .filter((node) => node.checkVisibility()).map((node) => node.getBoundingClientRect()).filter((box) => box.height < 32 || box.width < 32).length);
  found.is(`a finger hits every button at ${view.width} px`, small === 0, small);
}

async function look(browser, file, found) {
  const facts = JSON.parse(fs.readFileSync(path.join(path.dirname(file), 'measurements.json')));
  facts.has_seams = facts.wraps.some((wrap) => wrap.seams.length) || facts.tiers.some((tier) => tier.courses.some((course) => ['band', 'rope'].includes(course.kind)));
  for (const [name, view] of [['360', PHONE], ['1440', DESK]]) {
    const { page, asked, errors } = await open(browser, file, view, true);
    found.is('the turntable takes the large picture\'s place', !await at(page, 'turntable', 'hidden') && await at(page, 'hero', 'hidden'));
    await fits(page, found, view);
    await picture(page, file, name, true);
    if (view === DESK) {
      await turning(page, found);
      await zooming(page, found);
      await marking(page, found, facts);
      await answering(page, found, facts);
      await tree(page, found);
    } else {
      await page.tap('#sizes');
      // Without a join the button is not there: what `marking` looks at on the desk.
      if (facts.has_seams) { await page.tap('#seams'); }
      found.is('a tap shows the sizes', await count(page, 'size-marks') > 0);
      await picture(page, file, '360-marks', false);
    }
    found.is('nothing is asked of any network', asked.every((url) => /^(file|data|blob):/.test(url)), asked.filter((url) => !url.startsWith('data:')));
    found.is('no error in the console', errors.length === 0, errors);
    await page.close();
  }
  const plain = await open(browser, file, PHONE, false);
  const shown = (id) => plain.page.$eval(`#${id}`, (node) => getComputedStyle(node).display !== 'none');
  found.is('without scripts the plain page shows', await shown('hero') && await shown('plain') && !await shown('turntable') && !await shown('reply'));
  await fits(plain.page, found, PHONE);
  await picture(plain.page, file, '360-plain', true);
  await plain.page.close();
  const paper = await open(browser, file, DESK, true);
  await paper.page.emulateMediaType('print');
  const printed = (css) => paper.page.$eval(css, (node) => getComputedStyle(node).display !== 'none');
  found.is('on paper there is a large picture and lines to sign on', await printed('.hero') && await printed('.sign') && !await printed('.stage') && !await printed('.tools'));
  const pdf = await paper.page.pdf({ format: 'A4', printBackground: false, timeout: PATIENCE });
  found.is('it prints', pdf.length > 10000, pdf.length);
  if (shots) { fs.writeFileSync(path.join(shots, `${path.basename(path.dirname(file))}-print.pdf`), pdf); }
  await paper.page.close();
}

async function main() {
  const all = {};
  for (const file of process.argv.slice(2)) {
    const found = new Found();
    // A browser a page, one after the other; whatever stops one is told, and the others are still opened.
    try {
      const browser = await puppeteer.launch({
        executablePath: process.env.CHROMIUM || '/usr/bin/chromium',
        args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage'],
        timeout: PATIENCE,
        protocolTimeout: PATIENCE,
      });
      try {
        await browser.defaultBrowserContext().overridePermissions('file:///', ['clipboard-read', 'clipboard-write']).catch(() => {});
        await look(browser, file, found);
      } finally {
        await browser.close();
      }
    } catch (error) {
      found.is('the page is gone through to its end', false, error.stack || error);
    }
    all[file] = found.list;
  }
  console.log(JSON.stringify(all));
}

main();
