using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>
/// The monthly test and the planned comparison against a second implementation in R, tests/reference/verdict.R, for twelve invented
/// departments of known truths (tests/reference/departments.R).
/// </summary>
public class VerdictReferenceTests
{
    private const double Near = 1e-6;

    // The defaults ask for 40 cases of history; R computes the numbers of a department with fewer as well, and calls it too few to judge.
    private static readonly MonthlyTestOptions Options = MonthlyTestOptions.Joint with { LeastHistoryCases = 1 };

    public static TheoryData<string> Departments => [.. Read("expected.csv").Select(row => row["department"])];

    [Theory]
    [MemberData(nameof(Departments))]
    public void Limits_signals_and_level_are_those_of_R(string department)
    {
        var expected = Row("expected.csv", department);
        var result = Test(department);
        Assert.Equal(Number(expected["limit_worse"]), result.Limits!.Worse, Near);
        Assert.Equal(Number(expected["limit_better"]), result.Limits.Better, Near);
        Assert.Equal(Number(expected["limit_early"]), result.Limits.EarlyLogOdds!.Value, Near);
        Assert.Equal(Number(expected["history_unchanged"]), result.HistoryUnchanged!.Value, Near);
        Assert.Equal(expected["signals"], string.Join(';', result.Signals.Select(Written)));
        Assert.Equal(Number(expected["median"]), result.Current!.Median, Near);
        Assert.Equal(Number(expected["lower"]), result.Current.Likely95.Lower, Near);
        Assert.Equal(Number(expected["upper"]), result.Current.Likely95.Upper, Near);
    }

    [Theory]
    [MemberData(nameof(Departments))]
    public void Every_report_has_the_log_odds_of_R_and_its_signals_are_as_surely_still_beyond(string department)
    {
        var reports = Read("reports.csv").Where(row => row["department"] == department).ToArray();
        var result = Test(department);
        Assert.Equal(reports.Length, result.Reports.Length);
        foreach (var (expected, report) in reports.Zip(result.Reports))
        {
            Assert.Equal(int.Parse(expected["month"], CultureInfo.InvariantCulture), report.Month);
            Assert.Equal(Number(expected["log_odds_worse"]), report.LogOddsWorse, Near);
            Assert.Equal(Number(expected["log_odds_better"]), report.LogOddsBetter, Near);
            // Later the early leg has no say, and this program leaves it.
            Assert.Equal(report.Month - result.HistoryMonths < 18, report.EarlyLogOdds is not null);
            if (report.EarlyLogOdds is { } early)
                Assert.Equal(Number(expected["early"]), early, Near);
            var beyond = result.Signals.LastOrDefault(signal => signal.Month <= report.Month) is { } last
                && report.Month - last.Month < last.StillBeyond.Length ? last.StillBeyond[report.Month - last.Month] : (double?)null;
            Assert.Equal(expected["beyond"].Length > 0, beyond is not null);
            if (beyond is { } chance)
                Assert.Equal(Number(expected["beyond"]), chance, Near);
        }
    }

    [Theory]
    [MemberData(nameof(Departments))]
    public void The_level_after_each_report_is_that_of_R(string department)
    {
        var (months, history) = Months(department);
        foreach (var expected in Read("reports.csv").Where(row => row["department"] == department))
        {
            var month = int.Parse(expected["month"], CultureInfo.InvariantCulture);
            var level = MonthlyTest.Run(months[..(month + 1)], history, Options).Current!;
            Assert.Equal(
                (Number(expected["median"]), Number(expected["lower"]), Number(expected["upper"])),
                (level.Median, level.Likely95.Lower, level.Likely95.Upper),
                (left, right) => Math.Abs(left.Item1 - right.Item1) < Near && Math.Abs(left.Item2 - right.Item2) < Near
                    && Math.Abs(left.Item3 - right.Item3) < Near);
        }
    }

    [Theory]
    [InlineData("late_change")]
    [InlineData("moved_missingness")]
    [InlineData("capture_fell")]
    [InlineData("improvement_planned")]
    public void A_signal_of_a_change_that_lasts_stays_current(string department)
    {
        var result = Test(department);
        var signal = Assert.Single(result.Signals);
        Assert.True(signal.IsCurrentAt(signal.Month + signal.StillBeyond.Length - 1));
    }

    [Fact]
    public void Planned_comparisons_are_those_of_R_where_they_are_due()
    {
        var compared = 0;
        foreach (var planned in Read("evaluations.csv"))
        {
            var expected = Row("expected.csv", planned["department"]);
            var (months, _) = Months(planned["department"]);
            int change = Whole(planned["change"]), before = Whole(planned["before"]), after = Whole(planned["judged_after"]);
            Assert.Equal(Whole(expected["due"]), change + after);
            if (change + after >= months.Length)
            {
                Assert.Equal("waiting", expected["planned"]);
                continue;
            }
            var result = PlannedComparison.Compare(months[(change - before)..change], months[(change + 1)..(change + after + 1)]);
            Assert.Equal(expected["planned"], result.State switch
            {
                PlannedState.Lower => "improved",
                PlannedState.Higher => "against",
                PlannedState.Unclear => "unclear",
                _ => "too_few",
            });
            Assert.Equal(Number(expected["difference"]), result.Difference!.Value, Near);
            Assert.Equal(Number(expected["difference_lower"]), result.Difference.Lower, Near);
            Assert.Equal(Number(expected["difference_upper"]), result.Difference.Upper, Near);
            Assert.Equal(Number(expected["dispersion"]), result.Difference.Dispersion.Used, Near);
            compared++;
        }
        Assert.Equal(6, compared);
    }

    private static string Written(MonthlySignal signal) => string.Create(CultureInfo.InvariantCulture,
        $"{signal.Month}:{(signal.ForTheWorse ? "worse" : "better")}:{(signal.Leg == SignalLeg.Early ? "early" : "filter")}:"
        + $"{signal.Start.Likeliest}:{signal.Start.From}:{signal.Start.To}");

    private static MonthlyTestResult Test(string department)
    {
        var (months, history) = Months(department);
        return MonthlyTest.Run(months, history, Options);
    }

    private static (ImmutableArray<EventCount> Months, int History) Months(string department)
    {
        var rows = Read("departments.csv").Where(row => row["department"] == department).ToArray();
        return ([.. rows.Select(row => new EventCount(Whole(row["unwelcome"]), Whole(row["eligible"])))], Whole(rows[0]["history"]));
    }

    private static int Whole(string text) => int.Parse(text, CultureInfo.InvariantCulture);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static Dictionary<string, string> Row(string file, string department) =>
        Read(file).Single(row => row["department"] == department);

    private static IEnumerable<Dictionary<string, string>> Read(string file)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Outcomes.sln")))
            {
                var lines = File.ReadAllLines(Path.Combine(folder.FullName, "tests", "reference", "verdict", file));
                var head = lines[0].Split(',');
                return lines.Skip(1).Select(line => head.Zip(line.Split(',')).ToDictionary(cell => cell.First, cell => cell.Second));
            }
        throw new FileNotFoundException($"{file}: no Outcomes.sln above {AppContext.BaseDirectory}");
    }
}
