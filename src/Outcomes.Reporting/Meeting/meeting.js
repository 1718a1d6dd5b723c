(() => {
  const at = id => document.getElementById(id), all = (selector, from = document) => [...from.querySelectorAll(selector)];
  const { pipeline, month } = at('main').dataset;
  const slides = all('.slide'), boxes = all('.answers'), caseIds = boxes.map(box => box.dataset.case);
  let now = 0, saved = true, accepted = '';

  // --- slides

  const typing = target => target.closest?.('input, select, textarea');
  function show(n, focus = true) {
    now = Math.max(0, Math.min(slides.length - 1, n));
    slides.forEach((slide, i) => slide.classList.toggle('now', i === now));
    const title = slides[now].querySelector('h2');
    at('position').textContent = `${now + 1} of ${slides.length}: ${title.textContent}`;
    at('previous').disabled = now === 0;
    at('next').disabled = now === slides.length - 1;
    history.replaceState(null, '', '#' + slides[now].id);
    if (focus) title.focus({ preventScroll: true });
    if (inSlides()) scrollTo(0, 0);
    else if (focus) slides[now].scrollIntoView();
  }
  const inSlides = () => document.body.classList.contains('slides');
  const follow = () => {
    const target = location.hash && at(decodeURIComponent(location.hash.slice(1)));
    const n = target ? slides.indexOf(target.closest('.slide')) : -1;
    if (n >= 0) show(n);
    return n >= 0;
  };
  const turns = { ArrowRight: () => now + 1, PageDown: () => now + 1, ArrowLeft: () => now - 1, PageUp: () => now - 1, Home: () => 0, End: () => slides.length - 1 };
  addEventListener('keydown', event => {
    const wide = event.target.closest?.('.scroll, .timeline'), turn = turns[event.key];
    if (!turn || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey || typing(event.target)) return;
    if (wide && wide.scrollWidth > wide.clientWidth + 1 && event.key.startsWith('Arrow')) return;
    event.preventDefault();
    show(turn());
  });
  at('previous').addEventListener('click', () => show(now - 1));
  at('next').addEventListener('click', () => show(now + 1));
  at('mode').addEventListener('click', () => {
    at('mode').setAttribute('aria-pressed', document.body.classList.toggle('slides'));
    show(now, false);
    if (!inSlides()) slides[now].scrollIntoView();
  });
  addEventListener('hashchange', follow);
  // Once loaded, the browser goes to the address by itself, past the head of the page.
  addEventListener('load', () => { if (inSlides()) setTimeout(() => scrollTo(0, 0)); });

  // --- actions: an id says month and case, and its number is never given twice, so what was given is saved too

  const given = {};
  const numbers = () => Object.fromEntries(Object.entries(given).sort());
  const actions = of => all(`.new-actions[data-of="${of}"] .action`);
  function addAction(of, values = {}) {
    const copy = at('action').content.cloneNode(true).querySelector('.action');
    const number = values.id ? +values.id.split('-').at(-1) : (given[of] ?? 0) + 1;
    given[of] = Math.max(given[of] ?? 0, number);
    copy.dataset.id = values.id ?? `${month}-${of}-${number}`;
    copy.dataset.cases = JSON.stringify(values.cases ?? (of === 'general' ? [] : [of]));
    copy.querySelector('legend').textContent = `Action ${copy.dataset.id}`;
    copy.querySelector('.remove').textContent = `Remove action ${copy.dataset.id}`;
    for (const control of all('[data-action]', copy)) {
      control.id = `${copy.dataset.id}-${control.dataset.action}`;
      control.value = values[control.dataset.action] ?? '';
    }
    all('.new-actions').find(box => box.dataset.of === of).append(copy);
    return copy;
  }
  const text = control => control.value.trim();
  const part = (name, control) => text(control) ? { [name]: text(control) } : {};
  const decided = () => all('.action').map(copy => ({
    id: copy.dataset.id, cases: JSON.parse(copy.dataset.cases),
    ...Object.assign({}, ...all('[data-action]', copy).map(control => part(control.dataset.action, control))),
  }));
  function readBack() {
    const list = decided();
    at('none-decided').hidden = list.length > 0;
    at('decided').replaceChildren(...list.map(action => {
      const item = document.createElement('li');
      item.textContent = `${action.what ?? 'not yet said what'}. ${action.owner ?? 'No owner yet'}, ${action.due ? `due ${action.due}` : 'no date yet'} (${action.id})`;
      return item;
    }));
  }

  // --- earlier actions that the meeting closes; what an earlier page closed and this one does not show is kept

  const rows = all('[data-closing]');
  let kept = [];
  const closings = () => [...rows.map(row => ({ id: row.dataset.closing, ...Object.assign({}, ...all('[data-closes]', row).map(control => part(control.dataset.closes, control))) }))
    .filter(each => each.closed || each.effect), ...kept].sort((a, b) => a.id < b.id ? -1 : 1);

  // --- what is entered, in one order of keys: the same entries give the same bytes

  function answers(box) {
    const fields = all('[data-field]', box).filter(text).map(control => [control.dataset.field, text(control)]);
    const factors = {};
    for (const control of all('[data-factor]', box).filter(text)) (factors[control.dataset.factor] ??= {})[control.dataset.side] = text(control);
    const found = { ...Object.fromEntries(fields), ...(Object.keys(factors).length ? { factors } : {}) };
    return Object.keys(found).length ? [{ id: box.dataset.case, ...found }] : [];
  }
  const minutes = () => ({
    format: 'outcomes-minutes', version: 1, pipeline, month, ...part('held', at('held')),
    present: Object.fromEntries(all('[data-role]').filter(text).map(control => [control.dataset.role, +text(control)])),
    cases: boxes.flatMap(answers), actions: decided(), ...(Object.keys(given).length ? { numbers: numbers() } : {}),
    ...(closings().length ? { closed: closings() } : {}),
  });
  const written = () => JSON.stringify(minutes(), null, 1) + '\n';

  function lacking() {
    const found = [];
    if (!text(at('held'))) found.push(['held', 'The date of the meeting']);
    for (const control of all('[data-role]'))
      if (!control.validity.valid) found.push([control.id, 'A whole number of people from 0 to 99']);
    for (const copy of all('.action'))
      for (const [name, what] of [['what', 'what is to be done'], ['owner', 'the role that does it'], ['due', 'the date by which it is done']]) {
        const control = copy.querySelector(`[data-action="${name}"]`);
        if (!text(control)) found.push([control.id, `Action ${copy.dataset.id}: ${what}`]);
        else if (name === 'due' && text(at('held')) && text(control) < text(at('held'))) found.push([control.id, `Action ${copy.dataset.id}: due before the meeting`]);
      }
    for (const row of rows) {
      const [closed, effect] = all('[data-closes]', row), on = text(closed);
      if (!on && !text(effect)) continue;
      if (!on) found.push([closed.id, `Action ${row.dataset.closing}: the date on which it was closed`]);
      else if (on < row.dataset.opened) found.push([closed.id, `Action ${row.dataset.closing}: closed before it was decided`]);
      else if (text(at('held')) && on > text(at('held'))) found.push([closed.id, `Action ${row.dataset.closing}: closed after the meeting`]);
      if (!text(effect)) found.push([effect.id, `Action ${row.dataset.closing}: what it brought about`]);
    }
    return found;
  }
  function tell(found) {
    at('summary').hidden = !found.length;
    for (const control of all('[aria-invalid]')) control.removeAttribute('aria-invalid');
    at('summary-title').textContent = `Not complete: ${found.length} to fill in. A run refuses minutes that lack ${found.length === 1 ? 'it' : 'them'}.`;
    at('summary-list').replaceChildren(...found.map(([id, what]) => {
      const item = document.createElement('li'), link = document.createElement('a');
      link.href = '#' + id;
      link.textContent = what;
      link.addEventListener('click', event => { event.preventDefault(); show(slides.indexOf(at(id).closest('.slide'))); at(id).focus(); });
      at(id).setAttribute('aria-invalid', 'true');
      item.append(link);
      return item;
    }));
    if (found.length) at('summary').focus();
  }
  const say = what => { at('status').textContent = what; };

  // --- files

  function save(anyway) {
    const found = lacking(), file = written();
    if (found.length && !(anyway && accepted === file)) { accepted = file; tell(found); say(''); return; }
    tell([]);
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([file], { type: 'application/json' }));
    link.download = `minutes-${month}.json`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
    saved = true;
    say(`Handed to the browser as ${link.download}. Check that the file is there before you close the page.`);
  }

  function refusal(read) {
    if (read?.format !== 'outcomes-minutes' || read.version !== 1) return 'This file holds no minutes that this page can read.';
    if (read.pipeline !== pipeline || read.month !== month) return 'These are minutes of another pipeline or month; open the page of that month.';
    const numbered = Object.entries(read.numbers ?? {});
    if (!Array.isArray(read.cases) || !Array.isArray(read.actions) || !numbered.every(([, last]) => Number.isInteger(last) && last > 0)
      || !(Array.isArray(read.closed ?? []) && (read.closed ?? []).every(each => typeof each?.id === 'string'))) return 'This file holds no minutes that this page can read.';
    const ids = new RegExp(`^${month}-(${[...caseIds, 'general'].join('|')})-[1-9][0-9]{0,5}$`);
    if (numbered.some(([of]) => of !== 'general' && !caseIds.includes(of)) || read.cases.some(each => !caseIds.includes(each?.id)) || read.actions.some(each => !ids.test(each?.id))) return 'These minutes name a case that this page does not hold; the records have changed since. Make the page from the same records.';
    return '';
  }
  function fill(read) {
    for (const control of all('[data-field], [data-factor], [data-role], [data-closes], #held')) control.value = '';
    for (const box of all('.new-actions')) box.replaceChildren();
    for (const [of, last] of Object.entries(read.numbers ?? {})) given[of] = Math.max(given[of] ?? 0, last);
    at('held').value = read.held ?? '';
    for (const [role, people] of Object.entries(read.present ?? {})) if (at('role-' + role)) at('role-' + role).value = people;
    for (const each of read.cases) {
      const box = boxes.find(one => one.dataset.case === each.id);
      for (const control of all('[data-field]', box)) control.value = each[control.dataset.field] ?? '';
      for (const control of all('[data-factor]', box)) control.value = each.factors?.[control.dataset.factor]?.[control.dataset.side] ?? '';
    }
    const shown = each => rows.find(row => row.dataset.closing === each.id);
    for (const each of (read.closed ?? []).filter(shown)) for (const control of all('[data-closes]', shown(each))) control.value = each[control.dataset.closes] ?? '';
    kept = (read.closed ?? []).filter(each => !shown(each));
    for (const each of read.actions) addAction(each.id.slice(month.length + 1).replace(/-\d+$/, ''), each);
    saved = true;
    readBack();
  }
  async function load() {
    const file = at('load').files[0];
    if (!file) return;
    let read = null;
    try { read = JSON.parse(await file.text()); } catch { /* told as a file that holds no minutes */ }
    at('load').value = '';
    const why = saved ? refusal(read) : 'Save what is entered first: loading takes its place.';
    if (!why) fill(read);
    tell([]);
    say(why || 'Loaded. You can go on from here.');
  }

  document.addEventListener('input', event => { if (event.target.id !== 'load') saved = false; readBack(); });
  document.addEventListener('click', event => {
    const add = event.target.closest('.add-action'), remove = event.target.closest('.remove');
    if (add) addAction(add.dataset.of).querySelector('input').focus();
    if (remove) {
      const box = remove.closest('.new-actions');
      remove.closest('.action').remove();
      box.parentElement.querySelector('.add-action').focus();
    }
    if (add || remove) { saved = false; readBack(); }
  });
  at('save').addEventListener('click', () => save(false));
  at('save-anyway').addEventListener('click', () => save(true));
  at('load').addEventListener('change', load);
  addEventListener('beforeunload', event => { if (!saved) event.preventDefault(); });

  for (const one of all('.needs-script, #bar')) one.hidden = false;
  document.body.classList.add('slides', 'with-script');
  if (!follow()) show(0, false);
})();
