using System.Globalization;
using System.Text;
using System.Text.Json;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary><c>outcomes power</c>: what a department of a given volume would notice.</summary>
public sealed class PowerTests : IDisposable
{
    private readonly Workspace _workspace = TinyPipeline.Create();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task More_cases_and_larger_changes_are_noticed_sooner()
    {
        var (few, many) = (await Measure(cases: 10), await Measure(cases: 28));
        Assert.Equal(10, few.GetProperty("eligible_a_month").GetDouble());
        Assert.Equal([true, true, false], Changes(few).Select(change => change.GetProperty("for_the_worse").GetBoolean()));
        for (var i = 0; i < 3; i++)
        {
            Assert.True(Within12(Changes(few)[i]) < Within12(Changes(many)[i]), i.ToString(CultureInfo.InvariantCulture));
            var noticed = Noticed(Changes(many)[i]);
            Assert.Equal(noticed.Order(), noticed);
        }

        Assert.True(Within12(Changes(many)[1]) < Within12(Changes(many)[0]));
        // From the level now, which lies near the 80 % of every month; odds three times as bad.
        var now = few.GetProperty("rate").GetDouble();
        Assert.InRange(now, 0.78, 0.82);
        var odds = now / (1 - now) / 3;
        Assert.Equal(odds / (1 + odds), Changes(few)[0].GetProperty("to").GetDouble(), 1e-9);
    }

    [Fact]
    public async Task The_same_question_gets_the_same_answer_and_people_get_words()
    {
        Assert.Equal((await Measure(10)).GetRawText(), (await Measure(10)).GetRawText());
        var words = await ToolProcess.Run(_workspace.Folder, "power", "pipeline.yaml");
        Assert.Equal(0, words.Exit);
        Assert.Contains("within 12 months", words.Output, StringComparison.Ordinal);
        Assert.Contains("No signal does not prove that nothing changed", words.Output, StringComparison.Ordinal);
        Assert.DoesNotContain('\u00a0', words.Output);
    }

    [Fact]
    public async Task A_department_with_too_few_procedures_is_told_so()
    {
        Write(cases: 2, months: 14);
        var words = await ToolProcess.Run(_workspace.Folder, "power", "pipeline.yaml");
        Assert.Equal(0, words.Exit);
        Assert.Contains("too few cases to judge", words.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_a_headline_there_is_nothing_to_watch_and_the_pipeline_is_named()
    {
        var result = await ToolProcess.Run(_workspace.Folder, "power", "pipeline.yaml");
        Assert.Equal(3, result.Exit);
        Assert.Contains("pipeline.yaml:1", result.Error, StringComparison.Ordinal);
        Assert.Contains("headline", result.Error, StringComparison.Ordinal);
    }

    private static JsonElement[] Changes(JsonElement measure) => [.. measure.GetProperty("changes").EnumerateArray()];

    private static double[] Noticed(JsonElement change) =>
        [.. change.GetProperty("noticed_within_months").EnumerateArray().Select(each => each.GetDouble())];

    private static double Within12(JsonElement change) => Noticed(change)[11];

    private async Task<JsonElement> Measure(int cases)
    {
        Write(cases, months: 18);
        var result = await ToolProcess.Run(_workspace.Folder, "power", "pipeline.yaml", "--json");
        Assert.True(result.Exit == 0, result.ToString());
        return Assert.Single(JsonDocument.Parse(result.Output).RootElement.GetProperty("measures").EnumerateArray().ToArray());
    }

    // Four of five, every month alike.
    private void Write(int cases, int months)
    {
        var rows = new StringBuilder("id,day,place,attempts,first\n");
        for (var month = 0; month < months; month++)
            for (var i = 0; i < cases; i++)
                rows.Append(CultureInfo.InvariantCulture,
                    $"r{month}-{i},{2024 + (month / 12)}-{(month % 12) + 1:00}-{i + 1:00},icu,1,{((i + month) % 5 < 4 ? "yes" : "no")}\n");
        _workspace.Write("rows.csv", rows.ToString());
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline
            .Replace("as_of: 2026-02-01", $"as_of: {new DateOnly(2024, 1, 1).AddMonths(months).AddDays(-1):yyyy-MM-dd}",
                StringComparison.Ordinal)
            .Replace("{from: 2026-01, months: 12}", "{from: 2024-01, months: 12}", StringComparison.Ordinal) + "headline: [measure]\n");
    }
}
