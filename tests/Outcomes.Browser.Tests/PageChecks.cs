namespace Outcomes.Tests.Browser;

/// <summary>What is looked at in a page, as expressions for the browser; each gives a list of faults, empty where there are none.</summary>
internal static class PageChecks
{
    /// <summary>
    /// The page wider than its window, text cut by its own box, a box that scrolls and cannot be reached by keys, and whatever sticks
    /// out of no such box.
    /// </summary>
    public const string Cut = """
        (() => {
          const faults = [], name = one => `${one.tagName.toLowerCase()}.${one.getAttribute('class') ?? ''}#${one.id}`;
          if (document.documentElement.scrollWidth > innerWidth) faults.push(`the page is ${document.documentElement.scrollWidth} wide`);
          for (const one of document.body.querySelectorAll('*')) {
            if (one.closest('svg') || one.closest('.skip') || !one.checkVisibility()) continue;
            const style = getComputedStyle(one), wide = one.scrollWidth > one.clientWidth + 1 && one.clientWidth > 0;
            if (wide && ['hidden', 'clip'].includes(style.overflowX) && one.clientWidth > 1) faults.push(`${name(one)} is cut`);
            if (wide && ['auto', 'scroll'].includes(style.overflowX) && one.tabIndex < 0) faults.push(`${name(one)} scrolls, and not by keys`);
          }
          return [...new Set(faults)].slice(0, 10);
        })()
        """;

    /// <summary>How many texts and marks there are to judge.</summary>
    public const string Judged = "[...document.querySelectorAll('body *')].filter(one => one.checkVisibility() && "
        + "[...one.childNodes].some(part => part.nodeType === 3 && part.data.trim())).length";

    /// <summary>
    /// Texts under 4.5 to 1 (3 to 1 when large) and marks of drawings under 3 to 1 against what is behind them, by the formula of WCAG 2.2
    /// for relative luminance, which is what is left of a colour in grey. Lines of the grid and washes behind marks carry nothing.
    /// </summary>
    public const string Pale = """
        (() => {
          const faults = new Set(), grid = ['rgb(221, 221, 221)', 'rgb(213, 213, 213)', 'rgb(234, 243, 249)', 'rgb(255, 255, 255)'];
          const probe = document.body.appendChild(document.createElement('i'));
          const canvas = (() => { const sheet = new CSSStyleSheet(); sheet.replaceSync('body > i:last-child { background: Canvas }'); document.adoptedStyleSheets = [sheet]; const found = getComputedStyle(probe).backgroundColor; document.adoptedStyleSheets = []; probe.remove(); return found; })();
          const parts = colour => colour.match(/[\d.]+/g).map(Number);
          const solid = colour => colour.startsWith('rgb') && (parts(colour)[3] ?? 1) > 0.99;
          const behind = one => { for (let up = one; up; up = up.parentElement) if (solid(getComputedStyle(up).backgroundColor)) return getComputedStyle(up).backgroundColor; return canvas; };
          const light = colour => parts(colour).slice(0, 3).map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4).reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
          const contrast = (a, b) => { const [x, y] = [light(a), light(b)]; return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05); };
          const judge = (one, what, colour, least) => { const back = behind(one), found = contrast(colour, back); if (found < least) faults.add(`${what} ${one.tagName}.${one.getAttribute('class') ?? ''}: ${colour} on ${back} is ${found.toFixed(2)}`); };
          for (const one of document.body.querySelectorAll('*')) {
            if (!one.checkVisibility() || one.disabled) continue;
            const style = getComputedStyle(one), drawn = one.closest('svg') !== null && one.tagName !== 'svg';
            if ([...one.childNodes].some(part => part.nodeType === 3 && part.data.trim()) && !['title', 'desc', 'metadata', 'SCRIPT', 'STYLE', 'NOSCRIPT'].includes(one.tagName)) {
              const size = parseFloat(style.fontSize), large = size >= 24 || size >= 18.66 && +style.fontWeight >= 700;
              judge(one, 'text', drawn ? style.fill : style.color, large ? 3 : 4.5);
            } else if (drawn && ['path', 'line', 'polyline', 'polygon', 'rect', 'circle', 'ellipse'].includes(one.tagName) && !one.closest('defs, clipPath'))
              for (const colour of [style.fill, style.stroke])
                if (colour.startsWith('rgb') && solid(colour) && !grid.includes(colour)) judge(one, 'mark', colour, 3);
          }
          return [...faults].slice(0, 10);
        })()
        """;

    /// <summary>
    /// Rows and charts that a page break may tear, heads that do not come again, links to nowhere on paper, and tables
    /// wider than the sheet.
    /// </summary>
    public const string Torn = """
        (() => {
          const faults = new Set();
          for (const row of document.querySelectorAll('tr')) if (getComputedStyle(row).breakInside !== 'avoid' && row.checkVisibility()) faults.add(`a row of ${row.closest('table').id || row.closest('table').className} may be torn`);
          for (const head of document.querySelectorAll('thead')) if (head.checkVisibility() && getComputedStyle(head).display !== 'table-header-group') faults.add('a head does not come again');
          for (const chart of document.querySelectorAll('figure svg')) { let whole = false; for (let up = chart; up; up = up.parentElement) whole ||= getComputedStyle(up).breakInside.startsWith('avoid'); if (!whole) faults.add('a chart may be torn'); }
          for (const box of document.querySelectorAll('table')) if (box.checkVisibility() && box.getBoundingClientRect().right > document.documentElement.clientWidth + 1) faults.add(`${box.id || box.className} is wider than the sheet`);
          return [...faults].slice(0, 10);
        })()
        """;
}
