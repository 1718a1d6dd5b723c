// Asks again as soon as something changes, and offers the values of the chosen field. Without it the buttons do the same.
(() => {
  const form = document.getElementById('ask');
  if (!form) return;
  const values = document.getElementById('values');
  const all = [...values.children];
  let turn = 0;

  const offer = () => {
    const field = form.elements.field.value;
    values.replaceChildren(...all.filter(option => !field || option.dataset.field === field));
  };

  const query = () => {
    const filled = [...new FormData(form)].filter(([key, value]) => value !== '' && !['field', 'comparison', 'value'].includes(key));
    return new URLSearchParams(filled).toString();
  };

  const ask = async () => {
    const mine = ++turn;
    const address = '/?' + query();
    document.getElementById('answer').classList.add('waiting');
    try {
      const page = new DOMParser().parseFromString(await (await fetch(address)).text(), 'text/html');
      if (mine !== turn) return;
      for (const id of ['answer', 'parts']) {
        const fresh = page.getElementById(id);
        if (fresh) document.getElementById(id).replaceWith(document.adoptNode(fresh));
      }
      document.title = page.title;
      history.replaceState(null, '', address);
    } catch {
      document.getElementById('answer').classList.remove('waiting');
    }
  };

  form.elements.field.addEventListener('change', offer);
  form.addEventListener('change', event => {
    if (!['field', 'comparison', 'value'].includes(event.target.name)) ask();
  });
  offer();
})();
