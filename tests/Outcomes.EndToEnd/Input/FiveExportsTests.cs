using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// One set of invented records, exported five ways: each draft, once its questions are answered, gives the figures of the canonical form.
/// The exports and what each must amount to are written by a program of their own, tests/fixtures/exports/make.py.
/// </summary>
public sealed partial class FiveExportsTests : IDisposable
{
    private static readonly string[] Figures = ["counts.csv", "values.csv", "estimates.csv", "runcharts.csv"];

    private readonly Workspace _workspace = new();

    public FiveExportsTests() => Workspace.CopyFolder(Repository.InRoot("tests", "fixtures", "exports"), _workspace["exports"]);

    public void Dispose() => _workspace.Dispose();

    [Theory]
    [InlineData("wide", 1, "wide.csv")]
    [InlineData("long", 3, "long.txt", "long-attempts.csv")]
    [InlineData("semicolon", 2, "semicolon.csv")]
    [InlineData("workbook", 1, "workbook.xlsx")]
    [InlineData("coded", 3, "coded.csv")]
    public async Task A_draft_with_its_questions_answered_gives_the_figures_of_the_canonical_form(
        string name, int questions, params string[] files)
    {
        var init = await Run(["init", "mine", .. files.SelectMany(file => (string[])["--from", "exports/" + file])]);
        Assert.True(init.Exit == 0, init.ToString());
        var asked = Directory.GetFiles(_workspace["mine"], "*.yaml")
            .Sum(file => File.ReadLines(file).Count(line => line.TrimStart().StartsWith("# QUESTION", StringComparison.Ordinal)));
        Assert.True(questions == asked, init.Output);
        Answers.Give(_workspace, "mine", Path.Combine("exports", name + ".answers"));

        string[] source = name == "wide" ? await Stripped(init) : [];
        await Report("mine/pipeline.yaml", "drafted", source);
        await Report(Canonical(name), "canonical");
        foreach (var table in Figures)
            Assert.True(_workspace.Read("canonical", "tables", table) == _workspace.Read("drafted", "tables", table),
                $"{table} differs:\n{Difference(table)}");
        Assert.True(
            CsvTable.Read(_workspace["drafted", "tables", "counts.csv"]).Rows.Select(row => row["measure"]).Distinct().Count() >= 10);
        var rows = CsvTable.Read(_workspace["drafted", "tables", "ledger.csv"]).Rows.ToList();
        Assert.All(rows, row => Assert.Equal("accepted", row["fate"]));
        Assert.Equal(120, rows.Count(row => !row["file"].Contains("ttempts", StringComparison.Ordinal)));
        string[] findings = [.. CsvTable.Read(_workspace["drafted", "tables", "findings.csv"]).Rows.Select(row => row["rule"]).Distinct()];
        Assert.DoesNotContain(findings, rule => rule is "missing" or "out_of_range" or "error_value"
            || rule.StartsWith("not_", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_researchers_parquet_file_is_drafted_from_and_gives_the_same_figures_without_an_answer()
    {
        await Report(Canonical("semicolon"), "first");
        var init = await Run("init", "mine", "--from", "first/data/records.parquet");
        Assert.True(init.Exit == 0, init.ToString());
        Assert.DoesNotContain("# TAKE OUT", _workspace.Read("mine", "mapping.yaml"), StringComparison.Ordinal);
        await Report("mine/pipeline.yaml", "again");
        // It has more columns than the file that it came from, such as those of attempts, so a few measures more are counted.
        Assert.Empty(File.ReadLines(_workspace["first", "tables", "counts.csv"])
            .Except(File.ReadLines(_workspace["again", "tables", "counts.csv"])));
    }

    // As the audit lead would: the run refuses the export and names the columns, strip leaves them out, the copy runs.
    private async Task<string[]> Stripped(ToolResult init)
    {
        Assert.Contains("\"Hosp No\", out of the export", init.Output, StringComparison.Ordinal);
        Assert.Contains("\"Contact\", out of the export", init.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("example.org", init.Output + _workspace.Read("mine", "mapping.yaml"), StringComparison.Ordinal);
        Assert.Equal(4, (await Run("run", "mine/pipeline.yaml", "--as-of", "2025-09-30", "--out", "refused", "--charts", "none")).Exit);
        var strip = await Run("strip", "exports/wide.csv", "--out", "clean.csv", "--mapping", "mine/mapping.yaml");
        Assert.True(strip.Exit == 0, strip.ToString());
        Assert.Contains("Hosp No", strip.Output, StringComparison.Ordinal);
        return ["--source", "procedures=clean.csv"];
    }

    // The same pipeline, but for its sources: they are the canonical files, whose headings and words are the dictionary's.
    private string Canonical(string name)
    {
        var fields = File.ReadAllLines(_workspace["exports", name + ".fields"]);
        string Mapping(int line) =>
            "columns:\n" + string.Concat(fields[line].Split(' ').Select(field => $"  {field}: {{column: {field}}}\n"));
        _workspace.Write("canon/mapping.yaml", Mapping(0));
        var sources = "  procedures: {file: ../exports/canonical.csv, mapping: mapping.yaml}\n";
        if (fields.Length > 1)
        {
            _workspace.Write("canon/attempts.yaml", "table: {rows: attempts}\n" + Mapping(1));
            sources += "  attempts: {file: ../exports/canonical-attempts.csv, mapping: attempts.yaml}\n";
        }

        var pipeline = Directory.Exists(_workspace["mine"])
            ? _workspace.Read("mine", "pipeline.yaml")
            : "name: mine\nsources:\nmeasures: [shipped]\nstrata: [location_type, urgency]\nheadline: [first_pass, spo2_below_90]\n";
        _workspace.Write("canon/pipeline.yaml",
            Source().Replace(pipeline, "").Replace("sources:\n", "sources:\n" + sources, StringComparison.Ordinal));
        return "canon/pipeline.yaml";
    }

    private async Task Report(string pipeline, string output, params string[] more)
    {
        var run = await Run(["run", pipeline, "--as-of", "2025-09-30", "--out", output, "--charts", "none", .. more]);
        Assert.True(run.Exit == 0, run.ToString());
    }

    private string Difference(string table) => string.Join('\n',
        File.ReadLines(_workspace["canonical", "tables", table]).Except(File.ReadLines(_workspace["drafted", "tables", table])).Take(5)
            .Select(line => "- " + line)
            .Concat(File.ReadLines(_workspace["drafted", "tables", table]).Except(File.ReadLines(_workspace["canonical", "tables", table]))
                .Take(5).Select(line => "+ " + line)));

    private Task<ToolResult> Run(params string[] arguments) => ToolProcess.Run(_workspace.Folder, arguments);

    [GeneratedRegex(@"^  (procedures|attempts): .*\n", RegexOptions.Multiline)]
    private static partial Regex Source();
}
