using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>
/// The monthly test against an independent reference written in numpy and SciPy, by matrix products and log gammas, before this code was:
/// nothing is shared but the formulas of docs/statistics/monthly-test.md.
/// </summary>
public class MonthlyGoldenTests
{
    public static TheoryData<string> Filter => Check.Ids("monthly_filter.json");

    public static TheoryData<string> Joint => Check.Ids("monthly_joint.json");

    [Theory]
    [MemberData(nameof(Filter))]
    public void Filter_equals_the_reference_in_chances_signals_and_levels(string id)
    {
        var check = Check.Find("monthly_filter.json", id);
        var (months, history, expected) = Inputs(check);
        var result = MonthlyTest.Run(months, history, MonthlyTestOptions.FilterAlone, expected);
        Near(check, "limit", result.Limits!.Worse);
        Near(check, "limit_chance", result.Limits.WorseChance);
        Assert.Equal(result.Limits.Worse, result.Limits.Better);
        Near(check, "chance_worse", result.Reports.Select(report => report.ChanceWorse));
        Near(check, "chance_better", result.Reports.Select(report => report.ChanceBetter));
        Near(check, "variation", result.Variation!.Value);
        Near(check, "worse_than_history", result.ThanHistory!.Value.ChanceWorse);
        Near(check, "better_than_history", result.ThanHistory.Value.ChanceBetter);
        Near(check, "worse_than_year_ago", result.ThanYearAgo!.Value.ChanceWorse);
        Near(check, "better_than_year_ago", result.ThanYearAgo.Value.ChanceBetter);
        var signals = check.Expected["signals"]!.AsArray();
        Assert.Equal(signals.Count, result.Signals.Length);
        foreach (var (node, signal) in signals.Zip(result.Signals))
        {
            Assert.Equal((node!["month_index"]!.GetValue<int>(), node["way"]!.GetValue<string>() == "worse", SignalLeg.Filter),
                (signal.Month, signal.ForTheWorse, signal.Leg));
            Assert.Equal((node["start_likeliest"]!.GetValue<int>(), node["start_from"]!.GetValue<int>(), node["start_to"]!.GetValue<int>()),
                (signal.Start.Likeliest, signal.Start.From, signal.Start.To));
            Assert.Equal(node["start_chance"]!.GetValue<double>(), signal.Start.Chance, check.Tolerance);
        }
        if (expected is null)
            LevelsAreNear(check, result);
    }

    private static void LevelsAreNear(Check check, MonthlyTestResult result)
    {
        Near(check, "smoothed_rate", result.Levels.Select(level => level.Mean));
        Near(check, "change_up", result.Levels.Select(level => level.ChanceOfRise));
        Near(check, "change_down", result.Levels.Select(level => level.ChanceOfFall));
        var (level, now) = (check.Expected["level"]!, result.Current!);
        double[] Pair(string name) => [.. level[name]!.AsArray().Select(node => node!.GetValue<double>())];
        Assert.Equal(level["median"]!.GetValue<double>(), now.Median, check.Tolerance);
        Assert.Equal(level["mean"]!.GetValue<double>(), now.Mean, check.Tolerance);
        Near(Pair("i80"), [now.Likely80.Lower, now.Likely80.Upper], check.Tolerance);
        Near(Pair("i95"), [now.Likely95.Lower, now.Likely95.Upper], check.Tolerance);
    }

    [Theory]
    [MemberData(nameof(Joint))]
    public void Joint_test_equals_the_reference_in_both_legs(string id)
    {
        var check = Check.Find("monthly_joint.json", id);
        var (months, history, _) = Inputs(check);
        var result = MonthlyTest.Run(months, history, MonthlyTestOptions.Joint);
        Near(check, "limit", result.Limits!.Worse);
        Near(check, "limit_better", result.Limits.Better);
        // The reference writes 1 − 0.9^(1/6) with six digits there: 3.5e-7 less in its logarithm.
        Near(Numbers(check, "limit_early"), [result.Limits.EarlyLogOdds!.Value], 4e-7);
        Near(check, "chance_history_unchanged", result.HistoryUnchanged!.Value);
        Near(check, "chance_worse", result.Reports.Select(report => report.ChanceWorse));
        Near(check, "chance_better", result.Reports.Select(report => report.ChanceBetter));
        // Only the first 18 reports are asked of the early leg.
        var early = result.Reports.Take(18).ToArray();
        Near(Numbers(check, "early_log_odds")[..early.Length], early.Select(report => report.EarlyLogOdds!.Value), check.Tolerance);
        Near(Numbers(check, "early_worse_share")[..early.Length], early.Select(report => report.EarlyWorseShare!.Value), check.Tolerance);
        Assert.All(result.Reports.Skip(18), report => Assert.Null(report.EarlyLogOdds));
        Assert.Equal(
            check.Expected["signals"]!.AsArray().Select(node => (node!["month_index"]!.GetValue<int>(),
                node["way"]!.GetValue<string>() == "worse",
                node["by"]!.GetValue<string>() == "early" ? SignalLeg.Early : SignalLeg.Filter)),
            result.Signals.Select(signal => (signal.Month, signal.ForTheWorse, signal.Leg)));
    }

    [Fact]
    public void Golden_cases_hold_every_kind_of_signal()
    {
        string[] ways = [.. Check.Read("monthly_joint.json").SelectMany(check => check.Expected["signals"]!.AsArray())
            .Select(node => $"{node!["way"]} by {node["by"]}").Distinct().Order()];
        Assert.Equal(["better by early", "better by filter", "worse by early", "worse by filter"], ways);
    }

    internal static (ImmutableArray<EventCount> Months, int History, ImmutableArray<double>[]? Expected) Inputs(Check check)
    {
        int[] List(string name) => [.. check.Inputs[name]!.AsArray().Select(node => node!.GetValue<int>())];
        ImmutableArray<EventCount> months = [.. List("events").Zip(List("cases"), (events, cases) => new EventCount(events, cases))];
        if (check.Inputs["expected"] is not JsonArray chances)
            return (months, (int)check.Integer("history"), null);
        double[] all = [.. chances.Select(node => node!.GetValue<double>())];
        var expected = new ImmutableArray<double>[months.Length];
        var from = 0;
        for (var month = 0; month < months.Length; from += months[month++].Cases)
            expected[month] = [.. all.AsSpan(from, months[month].Cases)];
        Assert.Equal(all.Length, from);
        return (months, (int)check.Integer("history"), expected);
    }

    private static double[] Numbers(Check check, string name) =>
        check.Expected[name] is JsonArray list
            ? [.. list.Select(node => node!.GetValue<double>())]
            : [check.Expected[name]!.GetValue<double>()];

    private static void Near(Check check, string name, double actual) => Near(Numbers(check, name), [actual], check.Tolerance);

    private static void Near(Check check, string name, IEnumerable<double> actual) => Near(Numbers(check, name), actual, check.Tolerance);

    private static void Near(double[] expected, IEnumerable<double> actual, double tolerance)
    {
        double[] found = [.. actual];
        Assert.Equal(expected.Length, found.Length);
        Assert.All(expected.Zip(found), pair => Assert.Equal(pair.First, pair.Second, tolerance));
    }
}
