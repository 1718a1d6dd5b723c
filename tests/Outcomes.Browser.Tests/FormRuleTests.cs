using System.Globalization;
using System.Text.RegularExpressions;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Tests.Browser;

/// <summary>The form judges a record as the engine does: by the rules' own examples, which the engine is held to as well.</summary>
public sealed class FormRuleTests(Chromium chromium, FormPages forms) : IClassFixture<FormPages>
{
    /// <summary>
    /// Rules that one record in the form cannot settle: they need a trace, a score that the form does not ask for, or a column that is
    /// worked out from several answers.
    /// </summary>
    private static readonly string[] LeftToTheTool =
        ["declaration_without_rescue", "fona_without_declaration", "macocha_not_its_items", "spo2_min_not_trace"];

    [Fact]
    public async Task Every_example_of_every_rule_gets_the_verdict_that_it_states()
    {
        await using var form = await Open();
        var ids = await form.Page.EvaluateAsync<string[]>(
            "JSON.parse(document.getElementById('dictionary').textContent).rules.map(rule => rule.id)");
        Assert.Equal(LeftToTheTool, RuleFile.Shipped.Select(rule => rule.Id).Except(ids).Order(StringComparer.Ordinal));
        var wrong = new List<string>();
        foreach (var rule in RuleFile.Shipped.Where(rule => ids.Contains(rule.Id)))
            foreach (var example in rule.Examples)
            {
                var found = await form.Page.EvaluateAsync<string>(
                    "([id, given]) => { const rule = JSON.parse(document.getElementById('dictionary').textContent).rules.find(one "
                        + "=> one.id === id); const said = Rules.judge(rule.expect, name => given[name] ?? null); "
                        + "return said === null ? 'Unknown' : said ? 'Holds' : 'Broken'; }",
                    new object[] { rule.Id, example.Given.ToDictionary(pair => pair.Key, pair => Value(pair.Key, pair.Value)) });
                if (found != example.Expect.ToString())
                    wrong.Add($"{rule.Id}, line {example.Line}: {example.Expect} in the engine, {found} in the form");
            }

        Assert.True(wrong.Count == 0, string.Join("\n", wrong));
    }

    [Fact]
    public async Task A_doubtful_record_is_kept_only_when_the_person_says_so_and_a_future_date_never()
    {
        await using var form = await Open();
        await form.Page.FillAsync("#event_date", "2026-03-02");
        await form.Page.FillAsync("#spo2_pre", "90");
        await form.Page.FillAsync("#spo2_min", "95");
        await form.Page.ClickAsync("#add-attempt");
        await form.Page.SelectOptionAsync("#attempt1_technique", "video");
        await form.Page.FillAsync("#attempts_total", "2");
        await form.Page.ClickAsync("#keep");
        var said = await form.Page.InnerTextAsync("#summary");
        foreach (var id in new[] { "spo2_min_above_pre", "attempts_total_not_rows" })
            Assert.Contains(RuleFile.Shipped.Single(rule => rule.Id == id).Title, said, StringComparison.Ordinal);
        await form.Page.ClickAsync("#keep-anyway");
        Assert.Equal(1, await form.Page.Locator("#kept li").CountAsync());

        await form.Page.FillAsync("#event_date", "2099-01-01");
        await form.Page.ClickAsync("#keep");
        Assert.Contains(RuleFile.Shipped.Single(rule => rule.Id == "event_date_after_as_of").Title,
            await form.Page.InnerTextAsync("#summary"), StringComparison.Ordinal);
        Assert.False(await form.Page.IsVisibleAsync("#keep-anyway"));
    }

    // As the form holds it: a code that happens to be called no stays a text.
    private static object Value(string name, string written)
    {
        var attempt = Regex.Match(name, @"^attempt\d_(.+)$");
        var field = attempt.Success
            ? FieldDictionary.Shipped.Find(FieldDictionary.Attempt, attempt.Groups[1].Value)
            : FieldDictionary.Shipped.Find(FieldDictionary.Procedure, name);
        if (field?.Type is FieldType.Code or FieldType.Text or FieldType.Date) return written;
        // The page gives a reading too low to measure to its rules as the store holds it.
        if (written == "unrecordable") return (double)Field.TooLow;
        return written is "yes" or "no" ? written == "yes"
            : double.TryParse(written, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) ? number
            : written;
    }

    private Task<OpenPage> Open() => chromium.Open(forms["form.html"]);
}
