using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Outcomes.Reporting.Tests.Disclosure;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>An attacker who has nothing but the files of two successive reports, and the department's own counts to be judged by.</summary>
public sealed partial class DisclosureTests(SharedRuns runs) : IDisposable
{
    private readonly Workspace _workspace = Workspace.WithShippedPipelines();

    public void Dispose() => _workspace.Dispose();

    [Theory]
    [InlineData("network", 5, 0)]
    [InlineData("public", 10, 2)]
    public async Task Two_successive_sets_for_others_give_no_small_cell_away(string audience, int threshold, int half)
    {
        var all = await Shared("department", "2026-03");
        var first = await Shared(audience, "2026-02");
        await Run(audience, "2026-03", "second", "--previous", first);
        string[] expected = ["datapackage.json", "report.html", "run.json", "tables/counts.csv", "tables/estimates.csv"];
        Assert.Equal(expected, Workspace.FilesIn(_workspace["second"]).Select(file => file.Replace('\\', '/'))
            .Order(StringComparer.Ordinal));
        using (var manifest = JsonDocument.Parse(_workspace.Read("second", "run.json")))
            Assert.Equal(
                ["kind", "version", "tool", "pipeline", "pipeline_id", "as_of", "month", "audience", "threshold", "rounded_to",
                    "earlier_reports_compared", "definitions_sha256", "measures", "complete", "files"],
                manifest.RootElement.EnumerateObject().Select(each => each.Name));

        var truth = Cells(all).Where(cell => cell.Whole && cell.From == cell.To).GroupBy(cell => cell.Measure)
            .ToDictionary(group => group.Key, group => group.ToDictionary(cell => cell.From));
        // A sum of rounded counts says no more than they do.
        Cell[] shown = [.. Periods(Cells(first), half), .. Periods(Cells("second"), half)];
        PageSaysNoMore("second", [.. Cells("second")]);
        var (protectedCells, recovered) = (0, 0);
        foreach (var (measure, months) in truth)
        {
            var attack = new Attack();
            var x = months.Keys.ToDictionary(month => month,
                _ => (Met: attack.Variable(), Not: attack.Variable(), Missing: attack.Variable()), StringComparer.Ordinal);
            foreach (var cell in shown.Where(cell => cell.Whole && cell.Measure == measure))
            {
                var within = x.Where(pair => string.CompareOrdinal(pair.Key, cell.From) >= 0
                    && string.CompareOrdinal(pair.Key, cell.To) <= 0).Select(pair => pair.Value).ToArray();
                attack.Know(within.Select(each => each.Met), cell.Met - half, cell.Met + half);
                attack.Know(within.Select(each => each.Not), cell.Eligible - cell.Met - (2 * half), cell.Eligible - cell.Met + (2 * half));
                attack.Know(within.Select(each => each.Missing), cell.Missing - half, cell.Missing + half);
                foreach (var number in (long[])[cell.Met, cell.Eligible - cell.Met, cell.Missing])
                    Assert.False(number > 0 && number < threshold - half, $"{cell}");
            }

            attack.Subtract();
            attack.Solve();
            foreach (var (month, cell) in months)
                foreach (var (value, variable) in new[]
                {
                    (cell.Met, x[month].Met), (cell.Eligible - cell.Met, x[month].Not), (cell.Missing, x[month].Missing)
                }.Where(pair => pair.Item1 > 0 && pair.Item1 < threshold))
                {
                    protectedCells++;
                    var (low, high) = attack.Bounds([variable]);
                    Assert.InRange(value, low, high);
                    if (high - low < threshold) recovered++;
                }
        }

        Assert.True(protectedCells > 500, $"{protectedCells}");
        Assert.Equal(0, recovered);
    }

    [Fact]
    public async Task An_earlier_report_for_another_audience_is_refused()
    {
        var first = await Shared("network", "2026-02");
        var result = await ToolProcess.Run(_workspace.Folder, "run", Pipeline(_workspace, "public"), "--out",
            "second", "--previous", first);
        Assert.Equal(2, result.Exit);
        Assert.Contains("no earlier report for public", result.Error, StringComparison.Ordinal);
    }

    // Every n/N on the page is a count of the table, or the sum of some last blocks of one measure; there is no drawing and no hidden text
    // that could say more.
    private void PageSaysNoMore(string folder, Cell[] cells)
    {
        var html = _workspace.Read(folder, "report.html");
        Assert.DoesNotContain("<svg", html, StringComparison.Ordinal);
        Assert.DoesNotContain("title=", html, StringComparison.Ordinal);
        Assert.DoesNotContain("<!--", html, StringComparison.Ordinal);
        var known = cells.Select(cell => (cell.Met, cell.Eligible)).ToHashSet();
        foreach (var measure in cells.Where(cell => cell.Whole).GroupBy(cell => cell.Measure))
        {
            var (met, eligible) = (0L, 0L);
            foreach (var block in measure.Skip(measure.Count() > 1 ? 1 : 0).Reverse())
                known.Add((met += block.Met, eligible += block.Eligible));
        }

        var fractions = Fraction().Matches(html).Select(match => (Number(match.Groups[1].Value), Number(match.Groups[2].Value))).ToArray();
        Assert.NotEmpty(fractions);
        if (folder == "second" && cells.Any(cell => cell.Met % 5 != 0))
            Assert.All(fractions, fraction => Assert.Contains(fraction, known));
        else
            Assert.All(fractions, fraction => Assert.True(fraction.Item1 % 5 == 0 && fraction.Item2 % 5 == 0, $"{fraction}"));
    }

    private async Task Run(string audience, string month, string to, params string[] more)
    {
        var result = await ToolProcess.Run(_workspace.Folder,
            ["run", Pipeline(_workspace, audience), "--month", month, "--out", to, "--charts", "none", .. more]);
        Assert.True(result.Exit == 0, result.ToString());
    }

    // The folder of a set that several tests start from.
    private async Task<string> Shared(string audience, string month)
    {
        Workspace Create()
        {
            var workspace = Workspace.WithShippedPipelines();
            Pipeline(workspace, audience);
            return workspace;
        }

        return (await runs.Get($"{audience} {month}", Create, "run", $"pipelines/{audience}.yaml", "--month", month, "--charts", "none",
            "--out", "out")).Workspace["out"];
    }

    private static string Pipeline(Workspace workspace, string audience)
    {
        var text = workspace.Read("pipelines", "monthly.yaml")
            .Replace("audience: department", "audience: " + audience, StringComparison.Ordinal);
        workspace.Write($"pipelines/{audience}.yaml", text);
        return $"pipelines/{audience}.yaml";
    }

    private IEnumerable<Cell> Cells(string folder) => CsvTable.Read(_workspace[folder], "tables", "counts.csv").Rows.Select(row => new Cell(
        row["measure"], row["period"].Split('/')[0], row["period"].Split('/')[^1], row["stratum"] == "all", Number(row["met"]),
        Number(row["eligible"]), Number(row["missing"])));

    private static IEnumerable<Cell> Periods(IEnumerable<Cell> cells, int half)
    {
        Cell[] all = [.. cells];
        foreach (var cell in all)
        {
            Cell[] parts = [.. all.Where(part => part.Whole && cell.Whole && part.Measure == cell.Measure && part != cell
                && string.CompareOrdinal(part.From, cell.From) >= 0 && string.CompareOrdinal(part.To, cell.To) <= 0)];
            Assert.True(parts.Length == 0 || cell.Met == parts.Sum(part => part.Met), $"{cell}");
            if (half == 0 || parts.Length == 0) yield return cell;
        }
    }

    private static long Number(string text) => long.Parse(text, NumberStyles.AllowThousands, CultureInfo.InvariantCulture);

    private sealed record Cell(string Measure, string From, string To, bool Whole, long Met, long Eligible, long Missing);

    [GeneratedRegex(">([0-9,]+)/([0-9,]+)<")]
    private static partial Regex Fraction();
}
