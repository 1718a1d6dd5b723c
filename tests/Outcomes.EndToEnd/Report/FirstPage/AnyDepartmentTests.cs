using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// The first page of invented departments of many sizes, some with a short form and one with a report for its network: its words hold for
/// whatever was counted, not for the demonstration alone.
/// </summary>
public sealed class AnyDepartmentTests : IDisposable
{
    // A short form: what a department may well not ask.
    private static readonly string[] Optional =
    [
        "hour_band", "location_type", "weight_kg", "checklist", "spo2_min", "sbp_min", "co2_confirmation", "complication", "death_24h",
        "senior_present", "cardiac_arrest_peri", "oesophageal", "final_plan", "infection_status",
    ];

    private readonly Workspace _workspace = new();

    public void Dispose() => _workspace.Dispose();

    /// <summary>Procedures in three years, seed, every how manyth optional field is not asked (0 for none).</summary>
    [Theory]
    [InlineData(6, 98, 0)]
    [InlineData(9, 195, 2)]
    [InlineData(14, 292, 0)]
    [InlineData(22, 389, 3)]
    [InlineData(40, 486, 1)]
    [InlineData(75, 583, 0)]
    [InlineData(120, 680, 0)]
    [InlineData(180, 1180, 0)]
    [InlineData(240, 777, 2)]
    [InlineData(500, 874, 1)]
    [InlineData(1000, 971, 3)]
    [InlineData(300, 1068, 0)]
    [InlineData(3000, 1165, 0)]
    public async Task Sentences_are_short_and_plain_at_any_size(int procedures, int seed, int every)
    {
        var report = await Report(procedures, seed, every, network: false);
        var side = Prose.FirstSide(report);
        Check(Prose.Of(side), least: 10);
        Assert.InRange(side.Split("<li data-topic=").Length - 1, 3, 5);
        NoneGivenUp(report);
        NoneGivenUp(_workspace.Read("out", "appendix.html"));
    }

    [Fact]
    public async Task Sentences_of_a_report_for_a_network_are_short_and_plain()
    {
        var report = await Report(240, 777, 0, network: true);
        Check(Prose.Of(report), least: 10);
        NoneGivenUp(report);
    }

    private async Task<string> Report(int procedures, int seed, int every, bool network)
    {
        var made = await ToolProcess.Run(_workspace.Folder, "synthesise", "--procedures", $"{procedures}", "--seed",
            $"{seed}", "--out", "in");
        Assert.True(made.Exit == 0, made.ToString());
        if (every > 0)
            Shorten([.. Optional.Where((_, i) => i % every == 0)]);
        if (network)
            _workspace.Write("in/pipeline.yaml", _workspace.Read("in", "pipeline.yaml")
                .Replace("audience: department", "audience: network", StringComparison.Ordinal));
        var result = await ToolProcess.Run(_workspace.Folder, "run", "in/pipeline.yaml", "--charts", "none", "--out", "out");
        Assert.True(result.Exit == 0, result.ToString());
        return _workspace.Read("out", "report.html");
    }

    // Leaves columns out of the mapping, each with the lines that belong to it.
    private void Shorten(string[] fields)
    {
        var (kept, isLeftOut) = (new List<string>(), false);
        foreach (var line in _workspace.Read("in", "mappings", "demo.yaml").Split('\n'))
        {
            if (!line.StartsWith("    ", StringComparison.Ordinal))
                isLeftOut = fields.Any(field => line.StartsWith($"  {field}:", StringComparison.Ordinal));
            if (!isLeftOut)
                kept.Add(line);
        }

        _workspace.Write("in/mappings/demo.yaml", string.Join('\n', kept));
    }

    private static void Check(string prose, int least)
    {
        var sentences = Prose.Sentences(prose).ToArray();
        Assert.True(sentences.Length >= least, $"{sentences.Length} sentences");
        Assert.All(sentences, sentence => Assert.True(Prose.Words(sentence).Length <= Prose.LongestSentence, sentence));
    }

    private static void NoneGivenUp(string page)
    {
        var text = Prose.Text(page);
        var found = Prose.GivenUp().Match(text);
        Assert.False(found.Success, found.Success ? text[Math.Max(0, found.Index - 80)..Math.Min(text.Length, found.Index + 80)] : "");
    }
}
