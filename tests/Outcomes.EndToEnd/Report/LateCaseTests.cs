using System.Text.Json.Nodes;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>A record that comes after its month was reported is new to review, once.</summary>
public sealed class LateCaseTests : IDisposable
{
    private const string Late = "r9,2026-01-30,icu,4,no\n";
    private readonly Workspace _workspace = TinyPipeline.Create();

    public LateCaseTests()
    {
        _workspace.Write("flags.yaml", """
            - {id: many, title: Three attempts, tier: 1, when: attempts_total >= 3, shows: [attempts_total]}
            - {id: two, title: Two attempts, tier: 3, when: attempts_total >= 2, shows: [attempts_total]}

            """);
        _workspace.Write("pipeline.yaml", TinyPipeline.Pipeline.Replace("as_of: 2026-02-01", "as_of: 2026-04-30", StringComparison.Ordinal)
            + "flags: [flags.yaml]\n");
        _workspace.Write("rows.csv", TinyPipeline.Rows + "s1,2026-02-03,icu,1,yes\ns2,2026-02-04,icu,3,no\nt1,2026-03-03,icu,1,yes\n");
    }

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task It_comes_in_the_next_months_pack_and_not_again_after_that()
    {
        await Run("2026-01");
        Add(Late);
        await Run("2026-02");
        Assert.Equal(["s2 tier_1", "r9 tier_1"], Keys("2026-02").Order(StringComparer.Ordinal).Reverse()
            .Where(key => key.EndsWith("tier_1", StringComparison.Ordinal)));
        var cases = _workspace.Read("out", "2026-02", "cases.html").Replace('\u00a0', ' ');
        Assert.Contains("A record of January 2026, entered or changed after that month was reported.", cases, StringComparison.Ordinal);
        Assert.DoesNotContain("2026-01-30", cases, StringComparison.Ordinal);
        var counts = JsonNode.Parse(_workspace.Read("out", "2026-02", "run.json"))!["cases"]!;
        Assert.Equal((2, 1), (counts["tier_1"]!.GetValue<int>(), counts["late"]!.GetValue<int>()));
        Assert.Contains("1 of them from earlier months, entered or changed late",
            _workspace.Read("out", "2026-02", "report.html").Replace('\u00a0', ' '), StringComparison.Ordinal);

        await Run("2026-03");
        Assert.DoesNotContain(Keys("2026-03"), key => key.StartsWith('r') || key.StartsWith('s'));
    }

    [Fact]
    public async Task A_record_that_was_only_counted_and_is_corrected_upwards_comes_too_and_one_corrected_downwards_does_not()
    {
        await Run("2026-01");
        Assert.Contains("r2 tier_3", Keys("2026-01"));
        Replace("r2,2026-01-05,icu,2,no", "r2,2026-01-05,icu,3,no");
        Replace("r6,2026-01-28,icu,3,no", "r6,2026-01-28,icu,2,no");
        await Run("2026-02");
        Assert.Contains("r2 tier_1", Keys("2026-02"));
        Assert.DoesNotContain(Keys("2026-02"), key => key.StartsWith("r6", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_same_files_give_the_same_bytes_and_another_key_beside_them_makes_the_set_anew()
    {
        await Run("2026-01");
        Add(Late);
        await Run("2026-02");
        var before = Files("2026-02");
        Assert.Contains("nothing has changed", (await Run("2026-02")).Error, StringComparison.Ordinal);
        _ = await ToolProcess.Run(_workspace.Folder, "forget", "pipeline.yaml");
        Assert.DoesNotContain("nothing has changed", (await Run("2026-02")).Error, StringComparison.Ordinal);
        Assert.Equal(before, Files("2026-02"));

        // January is reported anew, so that the record comes there.
        await Run("2026-01");
        Assert.Contains("r9 tier_1", Keys("2026-01"));
        Assert.DoesNotContain("nothing has changed", (await Run("2026-02")).Error, StringComparison.Ordinal);
        Assert.DoesNotContain(Keys("2026-02"), key => key.StartsWith('r'));
    }

    [Fact]
    public async Task A_month_that_was_never_reported_and_a_folder_of_another_name_bring_nothing_late()
    {
        Add(Late);
        await Run("2026-02");
        Assert.DoesNotContain(Keys("2026-02"), key => key.StartsWith('r'));
        Directory.Delete(_workspace["out"], recursive: true);
        await Run("2026-01");
        Add("r8,2026-01-31,icu,4,no\n");
        var elsewhere = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--month", "2026-02", "--charts", "none",
            "--out", "out/february");
        Assert.True(elsewhere.Exit == 0, elsewhere.ToString());
        Assert.DoesNotContain("r8", _workspace.Read("out", "february", "case-key.csv"), StringComparison.Ordinal);
        await Run("2026-02");
        Assert.Contains("r8 tier_1", Keys("2026-02"));
    }

    [Fact]
    public async Task Review_finds_a_late_case_in_its_own_month_and_in_the_month_whose_pack_carries_it()
    {
        await Usual("2026-01");
        Add(Late);
        await Usual("2026-02");
        var id = CsvTable.Read(_workspace["outcomes-out", "tiny", "2026-02", "case-key.csv"]).Rows
            .Single(row => row["record_id"] == "r9")["case_id"];
        foreach (var month in new[] { "2026-01", "2026-02" })
        {
            var review = await ToolProcess.Run(_workspace.Folder, "review", "pipeline.yaml", "--month", month, "--case", id);
            Assert.True(review.Exit == 0, review.ToString());
            Assert.Contains($"Case {id}", review.Output, StringComparison.Ordinal);
        }

        var never = await ToolProcess.Run(_workspace.Folder, "review", "pipeline.yaml", "--month", "2026-03", "--case", id);
        Assert.Equal(2, never.Exit);

        async Task Usual(string month)
        {
            var run = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--month", month, "--charts", "none");
            Assert.True(run.Exit == 0, run.ToString());
        }
    }

    [Fact]
    public async Task A_key_that_cannot_be_read_stops_the_run_instead_of_bringing_old_cases_as_new()
    {
        await Run("2026-01");
        _workspace.Write("out/2026-01/case-key.csv", "case,record\nA,r6\n");
        var run = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--month", "2026-02", "--charts", "none",
            "--out", "out/2026-02");
        Assert.Equal(4, run.Exit);
        Assert.Contains("2026-01/case-key.csv", run.Error, StringComparison.Ordinal);
    }

    private async Task<ToolResult> Run(string month)
    {
        var run = await ToolProcess.Run(_workspace.Folder, "run", "pipeline.yaml", "--month", month, "--charts", "none",
            "--out", $"out/{month}");
        Assert.True(run.Exit == 0, run.ToString());
        return run;
    }

    private string[] Keys(string month) =>
        [.. CsvTable.Read(_workspace["out", month, "case-key.csv"]).Rows.Select(row => $"{row["record_id"]} {row["kind"]}")];

    private Dictionary<string, string> Files(string month) => Workspace.FilesIn(_workspace["out", month]).Where(name => name != "run.json")
        .ToDictionary(name => name,
            name => Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(_workspace["out", month, name]))));

    private void Add(string row) => File.AppendAllText(_workspace["rows.csv"], row);

    private void Replace(string was, string becomes)
    {
        var text = _workspace.Read("rows.csv");
        Assert.Contains(was, text, StringComparison.Ordinal);
        _workspace.Write("rows.csv", text.Replace(was, becomes, StringComparison.Ordinal));
    }
}
