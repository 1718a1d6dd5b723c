(() => {
  const { fields, attempts, rules } = JSON.parse(document.getElementById('dictionary').textContent);
  const at = id => document.getElementById(id);
  const form = at('form');
  const kept = [];
  let editing = null, saved = true, accepted = '';

  // --- what a control says: {} for blank, {value}, {reason}, or {wrong} with a sentence

  const ten = text => {
    const digits = text.replace(/[\s.-]/g, '');
    if (!/^\d{10}$/.test(digits) || /^(\d)\1*$/.test(digits)) return false;
    let sum = 0;
    for (let i = 0; i < 9; i++) sum += digits[i] * (10 - i);
    const check = 11 - sum % 11;
    return check !== 10 && check % 11 === +digits[9];
  };

  const shape = { Integer: [/^-?\d+$/, 'Enter a whole number in figures.'], Number: [/^-?\d+(\.\d+)?$/, 'Enter a number in figures, with a point for decimals.'], Date: [/^\d{4}-\d\d-\d\d$/, 'Enter a date.'], Time: [/^([01]\d|2[0-3]):[0-5]\d$/, 'Enter a time as 09:05.'] };
  const numeric = field => field.type === 'Integer' || field.type === 'Number';

  function read(field, id) {
    const control = at(id), why = at(id + '-why');
    const reason = why ? why.value : control.selectedOptions?.[0]?.dataset.reason ? control.value : '';
    if (field.type === 'Set') {
      const ticked = [...control.querySelectorAll('input:checked')].map(box => box.value);
      if (ticked.length && reason) return { wrong: 'Either tick answers or say why there is none, not both.' };
      if (ticked.length > 1 && ticked.includes('none')) return { wrong: 'Ticked “none” together with others: untick one or the other.' };
      return ticked.length ? { value: ticked } : reason ? { reason } : {};
    }
    if (field.type === 'Code' || field.type === 'YesNo') return reason ? { reason } : control.value ? { value: control.value } : {};
    const text = control.value.trim();
    if (control.validity.badInput) return { wrong: 'This is not a complete date.' };
    if (!text) return reason ? { reason } : {};
    if (reason) return { wrong: 'Either enter a value or say why there is none, not both.', raw: text };
    if (shape[field.type] && !shape[field.type][0].test(text)) return { wrong: shape[field.type][1], raw: text };
    if (field.type === 'Text' && ten(text)) return { wrong: 'This looks like a patient’s number (ten digits with a right check digit). Enter a code of your own.', raw: text };
    if (field.type === 'Text' && text.length > 64) return { wrong: 'A code has at most 64 characters.', raw: text };
    const value = numeric(field) ? Number(text) : text;
    if (outside(field.hard, value)) return { wrong: `Must lie ${span(field.hard)}.`, raw: text };
    return { value, doubt: outside(field.usual, value) ? `Unusual: mostly ${span(field.usual)}. Is it right?` : '' };
  }

  const outside = (range, value) => range && (range[0] !== null && value < range[0] || range[1] !== null && value > range[1]);
  const span = ([low, high]) => low === null ? `at or below ${high}` : high === null ? `at or after ${low}` : `between ${low} and ${high}`;

  // --- questions that arise only after others

  const rungs = ['plan_a', 'plan_b', 'plan_c', 'plan_d'];
  const settled = id => at(id)?.value ?? '';
  const asked = field => {
    const rung = rungs.indexOf(field.name);
    if (rung > 0 && !at('ladder-on').checked) return rungs.slice(0, rung).every(id => settled(id) !== '' && settled(id) !== 'succeeded');
    return !field.askedIf || field.askedIf.is.includes(settled(field.askedIf.field));
  };
  const unasked = field => {
    if (field.askedIf) return settled(field.askedIf.field) && !at(field.askedIf.field).selectedOptions[0].dataset.reason ? { reason: 'not_applicable' } : {};
    const rung = rungs.indexOf(field.name);
    return rungs.slice(0, rung).some(id => settled(id) === 'succeeded') ? { value: 'not_used' } : {};
  };
  const show = () => {
    for (const field of fields) at(field.name + '-field').hidden = !asked(field);
    at('ladder-on-field').hidden = settled('plan_a') === '';
  };

  // --- attempts

  const rows = () => document.querySelectorAll('.attempt').length;
  function addAttempt(focus) {
    const n = rows() + 1;
    if (n > 40) return;
    const holder = document.createElement('template');
    holder.innerHTML = at('attempt').innerHTML.replace(/([Aa]ttempt ?)#/g, `$1${n}`);
    at('attempts').append(holder.content);
    if (focus) at(`attempt${n}`).querySelector('select, input').focus();
  }
  // Numbers stay without gaps: the answers of the rows below move up, and the last row goes.
  function removeAttempt(number) {
    const all = [...Array(rows()).keys()].map(i => answers(attempts, `attempt${i + 1}_`));
    all.splice(number - 1, 1);
    at('attempts').replaceChildren();
    for (const row of all) { addAttempt(false); fill(attempts, `attempt${rows()}_`, renumber(row, rows())); }
    at('add-attempt').focus();
    say(`Attempt ${number} removed.`);
  }

  const renumber = (row, n) => Object.fromEntries(Object.entries(row).map(([id, cell]) => [id.replace(/^attempt\d+/, `attempt${n}`), cell]));

  // --- a record: what every control says, by column

  const answers = (list, prefix) => Object.fromEntries(list.map(field => [prefix + field.name, prefix || asked(field) ? read(field, prefix + field.name) : unasked(field)]));
  const entered = () => ({ count: rows(), cells: Object.assign(answers(fields, ''), ...[...Array(rows()).keys()].map(i => answers(attempts, `attempt${i + 1}_`))) });
  function fill(list, prefix, cells) {
    for (const field of list) {
      const id = prefix + field.name, cell = cells[id] ?? {};
      const why = at(id + '-why');
      if (why) why.value = cell.reason ?? '';
      if (field.type === 'Set') for (const box of at(id).querySelectorAll('input')) box.checked = (cell.value ?? []).includes(box.value);
      else at(id).value = cell.value ?? cell.raw ?? (why ? '' : cell.reason ?? '');
    }
  }

  // --- what a rule sees of a record

  const kinds = new Map([...fields.map(field => [field.name, field]), ...[...Array(40).keys()].flatMap(i => attempts.map(field => [`attempt${i + 1}_${field.name}`, field]))]);
  const sets = new Map([...kinds].flatMap(([name, field]) => (field.allowed ?? []).map(one => [`${name}_${one}`, [name, one]])));
  const today = () => { const d = new Date(); return `${d.getFullYear()}-${String(d.getMonth() + 1).padStart(2, '0')}-${String(d.getDate()).padStart(2, '0')}`; };
  const lookup = ({ count, cells }) => {
    const rows = [...Array(count).keys()].map(i => name => value(`attempt${i + 1}_${name}`));
    const value = name => {
      if (name === 'as_of') return today();
      if (Rules.rolled(name)) return Rules.rollup(name, rows);
      if (sets.has(name)) { const [of, one] = sets.get(name); const ticked = cells[of]?.value; return ticked ? ticked.includes(one) : null; }
      // Too low to measure is known, and below every threshold: the store holds it as 0.
      if (cells[name]?.reason === 'unrecordable') return 0;
      const found = cells[name]?.value;
      return found === undefined ? null : kinds.get(name)?.type === 'YesNo' ? found === 'yes' : found;
    };
    return value;
  };

  // --- checks and their summary

  function check(record) {
    const { cells } = record, value = lookup(record);
    const refused = [], doubts = [];
    for (const [id, cell] of Object.entries(cells)) {
      const field = kinds.get(id);
      const title = (id.match(/^attempt\d+(?=_)/)?.[0].replace('attempt', 'Attempt ') ?? '') + (/^attempt\d+_/.test(id) ? ', ' : '') + field.title;
      if (cell.wrong) refused.push({ id, title, text: cell.wrong });
      else if (field.needed && cell.value === undefined) refused.push({ id, title, text: 'This is needed.' });
      else if (field.needed && id === 'record_id' && kept.some((one, i) => i !== editing && one.cells.record_id.value === cell.value)) refused.push({ id, title, text: 'This page already keeps a record with this code.' });
      else if (cell.doubt) doubts.push({ id, title, text: cell.doubt });
      else if (field.core && cell.value === undefined && !cell.reason && (/^attempt/.test(id) || asked(field)) && !(id === 'age_years' && cells.age_band.value) && !(id === 'age_band' && cells.age_years.value !== undefined)) doubts.push({ id, title, text: 'Core, and blank. Answer it, or choose why there is no value.' });
    }
    if (!refused.length)
      for (const rule of rules)
        if (Rules.judge(rule.expect, value) === false)
          (rule.severity === 'refuse' ? refused : doubts).push({ id: rule.names.map(name => sets.get(name)?.[0] ?? name).find(name => at(name) && !at(name + '-field').hidden) ?? 'attempts_total', title: rule.title, text: rule.why + (rule.severity === 'blank' ? ' A run would set these values aside.' : '') });
    return { refused, doubts };
  }

  function tell(refused, doubts) {
    for (const error of document.querySelectorAll('.error')) { error.textContent = ''; error.classList.remove('doubt'); }
    for (const control of document.querySelectorAll('[aria-invalid]')) control.removeAttribute('aria-invalid');
    const list = at('summary-list');
    list.replaceChildren();
    const found = refused.length ? refused : doubts;
    for (const { id, title, text } of found) {
      const item = document.createElement('li'), link = document.createElement('a');
      link.href = '#' + id;
      link.textContent = `${title}: ${text}`;
      link.addEventListener('click', event => { event.preventDefault(); go(id); });
      item.append(link);
      list.append(item);
      const error = at(id + '-error');
      error.textContent = [error.textContent, text].filter(Boolean).join(' ');
      error.classList.toggle('doubt', !refused.length);
      if (refused.length) at(id).setAttribute('aria-invalid', 'true');
    }
    at('summary').hidden = !found.length;
    at('keep-anyway').hidden = !!refused.length || !doubts.length;
    at('summary-title').textContent = refused.length ? `Not kept yet: ${refused.length} to correct` : `Please check: ${doubts.length} in doubt`;
    if (found.length) at('summary').focus();
  }
  const go = id => {
    for (let up = at(id).closest('details'); up; up = up.parentElement.closest('details')) up.open = true;
    at(id).focus();
  };
  const say = text => { at('status').textContent = text; };

  function keep(anyway) {
    const record = entered(), { refused, doubts } = check(record), state = JSON.stringify(record);
    if (refused.length || doubts.length && !(anyway && accepted === state)) { accepted = state; tell(refused, doubts); return; }
    tell([], []);
    if (editing === null) kept.push(record); else kept[editing] = record;
    saved = false;
    clear();
    listKept();
    say(`Kept. ${kept.length} in this page, not saved to a file yet.`);
    at('record_id').focus();
  }

  function clear() {
    editing = null;
    accepted = '';
    at('ladder-on').checked = false;
    fill(fields, '', {});
    at('attempts').replaceChildren();
    // A key that is made from nothing: eight of 32 signs that are hard to confuse.
    at('record_id').value = 'F-' + [...crypto.getRandomValues(new Uint8Array(8))].map(byte => 'ABCDEFGHJKLMNPQRSTUVWXYZ23456789'[byte % 32]).join('');
    show();
  }
  function listKept() {
    at('kept-none').hidden = kept.length > 0;
    for (const id of ['save-csv', 'save-json']) at(id).disabled = !kept.length;
    at('kept').replaceChildren(...kept.map((record, i) => {
      const item = document.createElement('li'), key = record.cells.record_id.value;
      item.append(`${key}, ${record.cells.event_date.value}, attempts entered: ${record.count} `);
      for (const [word, act] of [['Change', () => change(i)], ['Remove', () => { kept.splice(i, 1); clear(); listKept(); say(`${key} removed.`); at('kept-title').focus(); }]]) {
        const button = document.createElement('button');
        button.type = 'button';
        button.textContent = `${word} ${key}`;
        button.addEventListener('click', act);
        item.append(button, ' ');
      }
      return item;
    }));
  }
  function change(i) {
    clear();
    editing = i;
    const { count, cells } = kept[i];
    fill(fields, '', cells);
    for (let n = 1; n <= count; n++) { addAttempt(false); fill(attempts, `attempt${n}_`, cells); }
    show();
    at('record_id').focus();
  }

  // --- files

  const plain = cell => cell?.reason ?? (Array.isArray(cell?.value) ? cell.value.join(';') : String(cell?.value ?? ''));
  // The apostrophe keeps a spreadsheet from running a text as a formula; numbers keep their minus sign.
  const guard = text => /^'*[=+\-@\t\r\n]/.test(text) ? "'" + text : text;
  const cellText = (id, cell) => { const text = plain(cell), safe = kinds.get(id).type === 'Text' ? guard(text) : text; return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe; };
  // One attempt's columns at the least, filled or not: the mapping names them.
  const columns = () => [...fields.map(field => field.name), ...[...Array(Math.max(1, ...kept.map(record => record.count))).keys()].flatMap(i => attempts.map(field => `attempt${i + 1}_${field.name}`))];
  const csv = () => [columns().join(','), ...kept.map(({ cells }) => columns().map(id => cellText(id, cells[id])).join(','))].map(line => line + '\r\n').join('');
  const json = () => JSON.stringify(kept.map(({ cells }) => Object.fromEntries(columns().map(id => [id, plain(cells[id])]))), null, 1) + '\n';
  function save(text, type, end) {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([text], { type }));
    link.download = `airway-procedures-${today()}.${end}`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
    saved = true;
    say(`${kept.length} handed to the browser as ${link.download}. Check that the file is there before you close the page.`);
  }

  form.addEventListener('submit', event => { event.preventDefault(); keep(false); });
  form.addEventListener('reset', event => { event.preventDefault(); tell([], []); clear(); say('The form is clear.'); at('record_id').focus(); });
  form.addEventListener('change', show);
  at('keep-anyway').addEventListener('click', () => keep(true));
  at('add-attempt').addEventListener('click', () => addAttempt(true));
  at('attempts').addEventListener('click', event => { const button = event.target.closest('.remove'); if (button) removeAttempt(+button.textContent.match(/\d+/)[0]); });
  at('save-csv').addEventListener('click', () => save(csv(), 'text/csv', 'csv'));
  at('save-json').addEventListener('click', () => save(json(), 'application/json', 'json'));
  addEventListener('beforeunload', event => { if (!saved && kept.length) event.preventDefault(); });
  clear();
})();
