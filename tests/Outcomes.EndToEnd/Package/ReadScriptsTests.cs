using System.Net;
using System.Text.RegularExpressions;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// The scripts of the analysis set print the headline table of side 1, cell by cell: they share no code with the tool, and take their
/// quantiles from the standard library of Python and from R.
/// </summary>
public sealed partial class ReadScriptsTests : IDisposable
{
    private static readonly Dictionary<string, string?> Plain = new() { ["PYTHONIOENCODING"] = "utf-8", ["LC_ALL"] = "C.UTF-8" };

    private readonly Workspace _workspace = new();

    public void Dispose() => _workspace.Dispose();

    /// <summary>
    /// Procedures, seed, month and headline: the usual measures; rare events printed per 1,000, with none and with a quantity among them; a
    /// month without a record; a first month.
    /// </summary>
    [Theory]
    [InlineData(500, 3, "2026-03", "[first_pass, first_pass_clean, spo2_below_90, hypotension, waveform_co2, checklist]")]
    [InlineData(500, 4, "2025-09",
        "[cardiac_arrest, oesophageal, failed_intubation, front_of_neck, lowest_saturation, head_up, death_24h]")]
    [InlineData(20, 5, "2026-03", "[first_pass, spo2_below_90, cardiac_arrest, waveform_co2]")]
    [InlineData(90, 6, "2023-04", "[first_pass, spo2_below_90, hypotension]")]
    public async Task Both_scripts_print_the_headline_table_of_the_report_cell_by_cell(
        int procedures, int seed, string month, string headline)
    {
        await Tool("synthesise", "--procedures", $"{procedures}", "--seed", $"{seed}", "--out", "in");
        _workspace.Write("in/pipeline.yaml", Headline().Replace(_workspace.Read("in", "pipeline.yaml"), "headline: " + headline));
        await Tool("run", "in/pipeline.yaml", "--month", month, "--charts", "none", "--out", "out");
        await Tool("export", "in/pipeline.yaml", "--month", month, "--out", "set");
        var expected = Expected(_workspace.Read("out", "report.html"));
        Assert.NotEmpty(expected);
        var skipped = new List<string>();
        foreach (var (program, script) in new[] { ("python3", "read.py"), ("Rscript", "read.R") })
            if (Find(program) is { } path)
                Assert.Equal(expected, await Printed(path, script));
            else
                skipped.Add(program);
        Assert.SkipWhen(skipped.Count > 0, $"{string.Join(" and ", skipped)} not installed");
    }

    [Fact]
    public async Task A_script_loads_every_table_with_types_labels_and_reasons()
    {
        var python = Find("python3");
        Assert.SkipWhen(python is null, "python3 is not installed");
        await Tool("synthesise", "--procedures", "120", "--seed", "7", "--out", "in");
        await Tool("export", "in/pipeline.yaml", "--out", "set");
        _workspace.Write("set/look.py", """
            import read
            plain, labelled = read.load(), read.load(labelled=True)
            print(sorted(plain))
            print(len(plain["procedure"]), {type(row["first_pass"]).__name__ for row in plain["procedure"]} <= {"bool", "NoneType"})
            print({type(row["age_years"]).__name__ for row in plain["procedure"]})
            print("icu" in {row["location_type"] for row in plain["procedure"]}, "Intensive care" in {row["location_type"] for row in labelled["procedure"]})
            print(all((row["spo2_min"] is None) == (row["spo2_min_missing"] is not None) for row in plain["procedure"]))
            """);
        var result = await ToolProcess.Start(python!, _workspace["set"], Plain, "look.py");
        Assert.True(result.Exit == 0, result.ToString());
        Assert.Equal("""
            ['attempt', 'measure_definitions', 'measures', 'procedure', 'trace_summary']
            120 True
            {'int'}
            True True
            True

            """.ReplaceLineEndings("\n"), result.Output.ReplaceLineEndings("\n"));
    }

    // As a reader sees the cells; the bound for none stands below its cell, in a line of its own.
    private static List<(string, string, string)> Expected(string report)
    {
        var table = report[report.IndexOf("<caption id=\"t-first\"", StringComparison.Ordinal)..];
        return [.. Row().Matches(table[..table.IndexOf("</table>", StringComparison.Ordinal)])
            .Select(row => (Cell(row.Groups[1].Value), Cell(row.Groups[2].Value), Cell(row.Groups[3].Value)))];
    }

    private async Task<List<(string, string, string)>> Printed(string program, string script)
    {
        var result = await ToolProcess.Start(program, _workspace["set"], Plain, script);
        Assert.True(result.Exit == 0, result.ToString());
        var table = CsvTable.Read(_workspace.Write("printed.csv", result.Output.ReplaceLineEndings("\n")));
        return [.. table.Rows.Select(row => (row["measure"], row["this_month"], row["last_12_months"]))];
    }

    private static string Cell(string html) =>
        WebUtility.HtmlDecode(Tag().Replace(Below().Replace(html, ""), "")).Replace('\u00a0', ' ').Trim();

    private static string? Find(string program) => (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .Select(folder => Path.Combine(folder, program)).FirstOrDefault(File.Exists);

    private async Task Tool(params string[] arguments)
    {
        var result = await ToolProcess.Run(_workspace.Folder, arguments);
        Assert.True(result.Exit == 0, result.ToString());
    }

    [GeneratedRegex("headline: .*")]
    private static partial Regex Headline();

    [GeneratedRegex("""<tr><th scope="row">(.*?)</th><td class="n">(.*?)</td><td>(.*?)</td>""")]
    private static partial Regex Row();

    [GeneratedRegex("""<span class="sub">.*?</span>""")]
    private static partial Regex Below();

    [GeneratedRegex("<[^>]+>")]
    private static partial Regex Tag();
}
