// Solves linear programs by HiGHS (compiled to WebAssembly) for the tests of package
// simplex. Programs come as JSON on the standard input, results go as JSON to the
// standard output.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';

const require = createRequire(join(process.env.EVENFALL_ROOT, 'web', 'package.json'));
const highs = await require('highs')();

// A line holds no more than some hundred terms: readers of the format need not take more.
function sum(terms) {
  let text = '';
  terms.forEach(([variable, factor], i) => {
    text += `${factor < 0 ? '-' : '+'} ${Math.abs(factor)} x${variable} ${i % 20 === 19 ? '\n' : ''}`;
  });
  return text;
}

function program({ cost, rows }) {
  const lines = ['Minimize', `cost: ${sum(cost.map((c, j) => [j, c]))}`, 'Subject To'];
  rows.forEach((row, i) => lines.push(`r${i}: ${sum(row.terms)} >= ${row.least}`));
  return [...lines, 'End'].join('\n');
}

const results = JSON.parse(readFileSync(0, 'utf8')).map((p) => {
  const { Status: status, ObjectiveValue: cost } = highs.solve(program(p), { output_flag: false });
  return { status, cost: Number.isFinite(cost) ? cost : 0 };
});
process.stdout.write(JSON.stringify(results));
