// Opens cards in a browser as a phone, on a wide screen and on A5 paper, light
// and dark, and says what is wrong with them.
//
//   node check.mjs CHROMIUM SCREENSHOTS PAGE.html...
//
// A page named book*.html has an index and several sheets; any other is one card
// on one sheet. Beside a page stands PAGE.txt: a line for each text that the page
// must show.

import { readFileSync, mkdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename } from 'node:path';
import { pathToFileURL } from 'node:url';
import puppeteer from 'puppeteer-core';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const [chromium, screenshots, ...pages] = process.argv.slice(2);
if (pages.length === 0) {
	console.error('usage: node check.mjs CHROMIUM SCREENSHOTS PAGE.html...');
	process.exit(2);
}
mkdirSync(screenshots, { recursive: true });

const screens = [
	{ name: 'phone', width: 390, height: 844, scheme: 'light' },
	{ name: 'phone-dark', width: 390, height: 844, scheme: 'dark' },
	{ name: 'narrow', width: 320, height: 640, scheme: 'light' },
	{ name: 'wide', width: 1100, height: 900, scheme: 'light' },
	{ name: 'wide-dark', width: 1100, height: 900, scheme: 'dark' },
];

// A5 in millimetres, ISO 216; PDF points are 1/72 inch.
const a5 = { width: 148, height: 210 };
const points = (mm) => (mm / 25.4) * 72;

const wrong = [];
// A browser of root's has no sandbox; a small /dev/shm is common in containers.
const args = process.getuid() === 0 ? ['--no-sandbox', '--disable-dev-shm-usage'] : ['--disable-dev-shm-usage'];
const browser = await puppeteer.launch({ executablePath: chromium, headless: true, args });
try {
	for (const file of pages) {
		await check(file);
	}
} finally {
	await browser.close();
}
for (const line of wrong) {
	console.error(line);
}
console.log(`${pages.length} pages opened, ${wrong.length} things wrong`);
process.exit(wrong.length === 0 ? 0 : 1);

async function check(file) {
	const name = basename(file, '.html');
	const complain = (what) => wrong.push(`${name}: ${what}`);
	const page = await browser.newPage();
	page.on('console', (message) => complain(`console ${message.type()}: ${message.text()}`));
	page.on('pageerror', (error) => complain(`error: ${error.message}`));
	page.on('dialog', (dialog) => {
		complain(`a dialog opened: ${dialog.message()}`);
		dialog.dismiss();
	});
	page.on('request', (request) => {
		if (!request.url().startsWith('file:')) {
			complain(`the page asked for ${request.url()}`);
		}
	});
	for (const screen of screens) {
		await page.setViewport({ width: screen.width, height: screen.height, deviceScaleFactor: 2 });
		await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: screen.scheme }]);
		await page.goto(pathToFileURL(file).href, { waitUntil: 'load' });
		const found = await page.evaluate(() => ({
			width: document.documentElement.scrollWidth,
			text: document.body.innerText,
			cards: document.querySelectorAll('article').length,
			headings: document.querySelectorAll('h1').length,
			scripts: [...document.scripts].filter((s) => s.type !== 'application/ld+json').length,
			recipes: [...document.querySelectorAll('article script[type="application/ld+json"]')].map((s) => s.textContent),
			broken: [...document.querySelectorAll('a[href^="#"]')].filter((a) => !document.getElementById(a.getAttribute('href').slice(1))).length,
			outside: [...document.querySelectorAll('main *')].filter((e) => {
				const box = e.getBoundingClientRect();
				return box.width > 0 && (box.right > innerWidth + 0.5 || box.left < -0.5);
			}).length,
			clipped: [...document.querySelectorAll('svg text')].filter((e) => {
				const box = e.getBoundingClientRect();
				const svg = e.ownerSVGElement.getBoundingClientRect();
				return box.width > 0 && (box.left < svg.left - 1 || box.right > svg.right + 1 || box.top < svg.top - 1 || box.bottom > svg.bottom + 1);
			}).map((e) => e.textContent),
		}));
		const on = (what) => complain(`${screen.name}: ${what}`);
		if (found.width > screen.width) on(`${found.width} px wide on a screen of ${screen.width}`);
		if (found.outside > 0) on(`${found.outside} elements reach beyond the screen`);
		if (found.clipped.length > 0) on(`pictures cut off ${JSON.stringify(found.clipped)}`);
		if (found.headings !== 1) on(`${found.headings} headings of the first level`);
		if (found.scripts !== 0) on(`${found.scripts} scripts`);
		if (found.broken !== 0) on(`${found.broken} links lead nowhere`);
		for (const recipe of found.recipes) {
			try {
				JSON.parse(recipe);
			} catch (error) {
				on(`a recipe that cannot be read: ${error.message}`);
			}
		}
		if (found.recipes.length !== found.cards) on(`${found.recipes.length} recipes in ${found.cards} cards`);
		for (const words of readFileSync(file.replace(/\.html$/, '.txt'), 'utf8').split('\n').filter(Boolean)) {
			if (!found.text.replace(/\s+/g, ' ').includes(words)) on(`no ${JSON.stringify(words)} to be read`);
		}
		await page.evaluate(axe);
		const report = await page.evaluate(() => window.axe.run(document));
		for (const violation of report.violations) {
			on(`${violation.id}: ${violation.help}: ${violation.nodes.map((n) => n.target.join(' ')).slice(0, 5).join(', ')}`);
		}
		if (!report.passes.some((rule) => rule.id === 'color-contrast')) on('contrast was not looked at');
		if (!report.passes.some((rule) => rule.id === 'landmark-one-main')) on('landmarks were not looked at');
		await page.screenshot({ path: `${screenshots}/${name}-${screen.name}.png`, fullPage: true });
	}
	await onPaper(page, name, complain);
	await page.close();
}

// onPaper prints the page: each sheet is A5, a card takes one, a book one for its
// index and one for each drink.
async function onPaper(page, name, complain) {
	const pdf = Buffer.from(await page.pdf({ path: `${screenshots}/${name}.pdf`, preferCSSPageSize: true, printBackground: false }));
	const sheets = [...pdf.toString('latin1').matchAll(/\/MediaBox\s*\[([^\]]+)\]/g)].map((m) => m[1].trim().split(/\s+/).map(Number));
	const cards = await page.evaluate(() => document.querySelectorAll('article').length);
	const wanted = cards + (name.startsWith('book') ? 1 : 0);
	if (sheets.length !== wanted) complain(`paper: ${sheets.length} sheets for ${wanted} of index and cards`);
	for (const [left, bottom, right, top] of sheets) {
		if (Math.abs(right - left - points(a5.width)) > 1 || Math.abs(top - bottom - points(a5.height)) > 1) {
			complain(`paper: a sheet of ${right - left} by ${top - bottom} points is not A5`);
		}
	}
}
