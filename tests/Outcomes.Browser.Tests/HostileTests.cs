using System.Text.Json;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Browser;

/// <summary>
/// What no person should type, typed into every text field of the form: out of it as text, and through a run onto pages on which it stays
/// text. The kinds are common practice (OWASP on formulas in CSV; markup, handlers, closing tags, marks of direction); the words are ours.
/// </summary>
public sealed class HostileTests(Chromium chromium, FormPages forms) : IClassFixture<FormPages>, IDisposable
{
    private static readonly string[] Short =
    [
        "<script>window.hit=1</script>", "</script></style></title><b>", "\"><img src=x onerror=window.hit=1>", "'-alert(1)-'",
        "<svg/onload=alert(1)>", "javascript:alert(1)", "&lt;b&gt;&#60;i&#62;", "{{7*7}}${7*7}<%=7*7%>", "\u202Egpj.exe\u2066\u200F",
        "=1+1", "@SUM(A1:A9)", "+1+1", "-1-1|calc", "=HYPERLINK(\"a\",\"b\")", "a,\"b\";c", "]]>--><!--",
    ];

    private static readonly string Long = string.Concat(Enumerable.Repeat("<b>word", 1_500));

    private readonly Workspace _workspace = new();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task Texts_leave_the_form_quoted_and_guarded_and_reach_report_and_cases_unexecuted()
    {
        await using var form = await Opened();
        foreach (var (i, text) in Short.Index())
        {
            // Over a year, for only then does a report name the levels of strata.
            await form.Page.FillAsync("#event_date", $"{new DateTime(2025, 4, 2).AddMonths(Math.Min(i, 11)):yyyy-MM-dd}");
            await form.Page.FillAsync("#spo2_min", "41");
            foreach (var field in new[] { "record_id", "site_code" }) await form.Page.FillAsync($"#{field}", text);
            // One of them often, for levels of few records are merged on pages.
            await form.Page.FillAsync("#unit_code", Short[0]);
            await form.Page.ClickAsync("#keep");
            await form.Page.ClickAsync("#keep-anyway");
        }

        Assert.Equal(Short.Length, await form.Page.Locator("#kept > li").CountAsync());
        await Harmless(form, requests: 1);
        await form.Save(_workspace, "rows.csv");
        await form.Save(_workspace, "rows.json");

        var table = CsvTable.Read(_workspace["lf-rows.csv"]).Rows.ToList();
        // A text that only looks guarded is guarded too, so that taking the guard off gives the text back.
        string Guarded(string text) => text.TrimStart('\'')[0] is '=' or '@' or '+' or '-' ? "'" + text : text;
        Assert.All(new[] { "record_id", "site_code" }, column => Assert.Equal(Short.Select(Guarded), table.Select(row => row[column])));
        using var json = JsonDocument.Parse(_workspace.Read("rows.json"));
        Assert.Equal(Short, json.RootElement.EnumerateArray().Select(row => row.GetProperty("site_code").GetString()));

        foreach (var kind in new[] { "csv", "json" })
        {
            _workspace.Write($"{kind}.yaml", Pipeline($"rows.{kind}", kind));
            var run = await ToolProcess.Run(_workspace.Folder, "run", $"{kind}.yaml", "--out", kind, "--month", "2026-03");
            Assert.True(run.Exit == 0, run.ToString());
            var counts = CsvTable.Read(_workspace[kind, "tables", "counts.csv"]).Rows.ToList();
            Assert.Contains(counts, row => row["stratum"] == "site_code" && row["level"].Contains("window.hit", StringComparison.Ordinal));
            Assert.DoesNotContain(counts, row => row["level"][0] is '=' or '@' or '+' or '-');
            foreach (var file in new[] { "report.html", "appendix.html", "cases.html" })
            {
                await using var page = await chromium.Open(_workspace[kind, file]);
                await Harmless(page, requests: 1);
                Assert.Equal(0, await page.Page.EvaluateAsync<int>("[...document.querySelectorAll('*')].filter(one => "
                    + "[...one.attributes].some(part => /^on/i.test(part.name) || /^\\s*javascript:/i.test(part.value))).length"));
                Assert.Equal(0,
                    await page.Page.EvaluateAsync<int>("document.querySelectorAll('script, img[src=x], iframe, object, embed').length"));
            }

            // Named in the report as text: so the test would see them if they were left out.
            Assert.Contains("&lt;script&gt;window.hit", _workspace.Read(kind, "appendix.html"), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_long_word_and_a_text_in_a_number_are_refused_at_entry_and_their_words_are_shown_nowhere()
    {
        await using var form = await Opened();
        await form.Page.FillAsync("#event_date", "2026-03-02");
        await form.Page.ClickAsync("#add-attempt");
        await form.Page.ClickAsync("#attempt1 summary");
        await form.Page.SelectOptionAsync("#fona_performed", "yes");
        var fields = await form.Page.EvaluateAsync<string[]>(
            "[...document.querySelectorAll('input[type=text]')].filter(one => one.checkVisibility()).map(one => one.id)");
        Assert.True(fields.Length > 40, $"only {fields.Length} text fields");
        foreach (var field in fields) await form.Page.FillAsync($"#{field}", Long);
        await form.Page.ClickAsync("#keep");
        Assert.Equal(fields.Length, await form.Page.Locator("#summary-list li").CountAsync());
        Assert.DoesNotContain("word", await form.Page.InnerTextAsync("#summary"), StringComparison.Ordinal);
        Assert.True(await form.Page.IsDisabledAsync("#save-csv"));
        Assert.Equal(1280, await form.Page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        await Harmless(form, requests: 1);
    }

    private static async Task Harmless(OpenPage open, int requests)
    {
        Assert.False(await open.Page.EvaluateAsync<bool>("'hit' in window"), "a value ran as a script");
        Assert.Equal(requests, open.Requests.Count);
        Assert.Empty(open.Complaints);
        Assert.Empty(open.Dialogs);
    }

    private async Task<OpenPage> Opened()
    {
        var form = await chromium.OpenForm(forms, _workspace);
        await form.Page.EvaluateAsync("document.querySelectorAll('details').forEach(one => one.open = true)");
        return form;
    }

    private static string Pipeline(string file, string name) => $$"""
        name: {{name}}
        as_of: 2026-03-31
        sources:
          procedures: {file: {{file}}, mapping: form.yaml}
        strata: [site_code, unit_code]
        headline: [spo2_below_90]
        assume: {urgency: emergency, age_band: adult, cardiac_arrest_before: no}

        """;
}
