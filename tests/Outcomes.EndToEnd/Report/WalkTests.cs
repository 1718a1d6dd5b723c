using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// The walk of DEVELOPERS.md, done to the letter: a measure, its stratum, its section and its place among the headline ones.
/// </summary>
public sealed partial class WalkTests : IDisposable
{
    private readonly Workspace _workspace = new();

    public void Dispose() => _workspace.Dispose();

    [Fact]
    public async Task The_files_on_the_page_bring_a_measure_a_stratum_and_a_section_into_the_report()
    {
        var page = File.ReadAllText(Repository.InRoot("DEVELOPERS.md"));
        string[] blocks = [.. Block().Matches(page[page.IndexOf("## A new measure", StringComparison.Ordinal)..]).Take(4)
            .Select(match => Regex.Replace(match.Groups["text"].Value, "^   ", "", RegexOptions.Multiline))];
        Assert.Equal(4, blocks.Length);
        var made = await ToolProcess.Run(_workspace.Folder, "synthesise", "--procedures", "500", "--seed", "11", "--out", "walk");
        Assert.True(made.Exit == 0, made.ToString());
        string[] files = ["ketamine_first.yaml", "own-derived.yaml", "own-sections.yaml"];
        foreach (var (file, text) in files.Zip(blocks))
        {
            Assert.Contains($"`{file}`", page, StringComparison.Ordinal);
            File.WriteAllText(_workspace["walk", file], text);
        }

        var pipeline = _workspace["walk", "pipeline.yaml"];
        var kept = File.ReadLines(pipeline).Where(line => !((string[])["measures:", "derived:", "sections:", "strata:", "headline:"])
            .Any(key => line.StartsWith(key, StringComparison.Ordinal)));
        File.WriteAllText(pipeline, string.Join('\n', kept) + '\n' + blocks[3]);
        var run = await ToolProcess.Run(_workspace.Folder, "run", "walk/pipeline.yaml", "--out", "out", "--charts", "all");
        Assert.True(run.Exit == 0, run.ToString());
        var report = _workspace.Read("out", "appendix.html");
        Assert.Contains("<h2 id=\"shock\">Patients in shock</h2>", report, StringComparison.Ordinal);
        Assert.Contains("<td>Below 100 mmHg</td>", report, StringComparison.Ordinal);
        Assert.Contains("<h3>Systolic pressure at induction</h3>", report, StringComparison.Ordinal);
        Assert.Contains("<h3>Ketamine at induction, by stratum</h3>", report, StringComparison.Ordinal);
        Assert.True(File.Exists(_workspace["out", "charts", "shock-1.svg"]));
        var rows = CsvTable.Read(_workspace["out"], "tables", "strata.csv").Rows;
        Assert.Contains(rows, row => row["section"] == "shock" && row["measure"] == "ketamine_first" && row["stratum"] == "pressure_band");
    }

    [GeneratedRegex("```yaml\\n(?<text>.*?)```", RegexOptions.Singleline)]
    private static partial Regex Block();
}
