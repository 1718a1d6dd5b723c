'use strict';
// Consistency rules as the engine judges them: three-valued, null is unknown. Their trees come from the engine's own parser.
const Rules = (() => {
  const tidy = number => Math.round(number * 1e9) / 1e9;
  const all = list => list.includes(false) ? false : list.includes(null) ? null : true;
  const flip = truth => truth === null ? null : !truth;

  function judge(node, value) {
    if (!Array.isArray(node)) return node;
    const [op, ...parts] = node, sub = part => judge(part, value);
    if (op === 'name') return value(parts[0]) ?? null;
    if (op === 'null') return sub(parts[0]) === null;
    if (op === 'not') return flip(sub(parts[0]));
    if (op === 'and') return all(parts.map(sub));
    if (op === 'or') return flip(all(parts.map(part => flip(sub(part)))));
    if (op === 'in') return flip(all(parts.slice(1).map(part => flip(judge(['=', parts[0], part], value)))));
    if (op === 'between') return all([judge(['>=', parts[0], parts[1]], value), judge(['<=', parts[0], parts[2]], value)]);
    const [a, b] = parts.map(sub);
    if (a === null || b === null) return null;
    switch (op) {
      case '=': return a === b;
      case '<>': return a !== b;
      case '<': return a < b;
      case '<=': return a <= b;
      case '>': return a > b;
      case '>=': return a >= b;
      case '+': return tidy(a + b);
      case '-': return b === undefined ? -a : tidy(a - b);
      case '*': return tidy(a * b);
      default: throw new Error(op);
    }
  }

  // What the engine works out of attempt rows, missing where there are none or where one that it needs is missing.
  // A row is a function from an attempt field to its value or null.
  const known = (rows, ...names) => rows.every(row => names.every(name => row(name) !== null));
  const passes = row => ['direct', 'video', 'flexible_scope', 'via_sga'].includes(row('technique'));
  const count = (rows, names, which) => known(rows, ...names) ? rows.filter(which).length : null;
  const least = list => list.length ? Math.min(...list) : null;
  const plan = letter => rows => count(rows, ['plan'], row => row('plan') === letter);
  const rollups = {
    attempts_contiguous: () => true,
    intubation_attempts: rows => count(rows, ['technique'], passes),
    attempt_successes: rows => count(rows, ['technique', 'outcome'], row => passes(row) && row('outcome') === 'success'),
    plan_a_attempts: plan('A'),
    plan_b_attempts: plan('B'),
    plan_c_attempts: plan('C'),
    plan_d_attempts: plan('D'),
    attempts_duration_s: rows => known(rows, 'duration_s') ? rows.reduce((sum, row) => sum + row('duration_s'), 0) : null,
    attempt_spo2_min: rows => least(rows.map(row => row('spo2_min')).filter(value => value !== null)),
    attempt_oesophageal: rows => rows.some(row => row('outcome') === 'oesophageal') ? true : known(rows, 'outcome') ? false : null,
  };
  const rollup = (name, rows) => rows.length ? rollups[name](rows) : null;
  return { judge, rollup, rolled: name => Object.hasOwn(rollups, name) };
})();
