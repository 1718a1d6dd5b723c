using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>The statistics of change: the monthly test, what it would notice, and the planned comparison of a declared change.</summary>
internal static class SignalStatistics
{
    private const int MostMonths = 600;
    private const int MostCases = 1_000_000;

    /// <summary>Futures are drawn case by case.</summary>
    private const int MostDrawn = 1_000;

    private static readonly ImmutableArray<ComputeInput> Months =
    [
        new("events", "list of integers", "cases with the unwelcome event, one number a month in order, history first"),
        new("cases", "list of integers", "cases judged, one number a month; 0 is a month without cases"),
        new("history", "integer", "months of history; fewer than 12, or with fewer than 40 cases, are too few. The rest are reports", "12"),
    ];

    private static readonly ComputeInput Expected = new("expected", "list of numbers", "to follow the case mix: the chance of the event "
        + "of every case, 0.000001 to 0.999999, month after month", "counts alone");

    private static readonly ComputeInput Pace =
        new("pace", "text", "default, strict or faster: the false alarms allowed, 10, 5 or 20 %", "default");

    private static readonly ComputeInput Measures = new("measures", "integer", "measures that share the budget, 1 to 100", "6");

    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        new("monthly_test",
            "has the level of a monthly proportion changed, and since when? the test that decides in a report, with a false-alarm budget",
            [.. Months, new("start", "text", "the first month, such as 2023-04", "2000-01"), Expected, Pace, Measures],
            MonthlyTest.Source,
            """{"start": "2024-01", "events": [1, 2, 1, 1, 2, 2, 1, 1, 2, 1, 2, 1, 2, 5, 4, 6], "cases": [9, 11,"""
                + """ 10, 8, 12, 10, 9, 11, 10, 10, 12, 8, 10, 9, 11, 10]}""",
            Test),
        new("monthly_test_power", "the chance that the monthly test notices a change from the next report on, within 1, 2, 3 ... months",
            [
                .. Months, new("changed", "number", "the event's rate after the change, 0.001 to 0.999"), Expected, Pace, Measures,
                new("months", "integer", "months ahead, 1 to 36", "12"),
                new("seed", "integer", "seed of the simulation, 0 or more", "1"),
                new("replicates", "integer", "futures simulated, 1 to 100000", "2000"),
            ],
            $"{MonthlyTest.Source}; simulated",
            """{"events": [1, 2, 1, 1, 2, 2, 1, 1, 2, 1, 2, 1], "cases": [9, 11, 10, 8, 12, 10, 9, 11, 10, 10, 12, 8], "changed": 0.3}""",
            Power),
        new("planned_comparison",
            "one comparison of the months before and after a declared change, in the month planned for it, allowing for months that vary",
            [
                new("events_before", "list of integers", "cases with the unwelcome event, one number a month before the change"),
                new("cases_before", "list of integers", "cases judged in these months"),
                new("events_after", "list of integers", "the same for the months after the change; the month of the change is in neither"),
                new("cases_after", "list of integers", "cases judged in these months"),
                new("level", "number", "two-sided confidence level, above 0 and below 1", "0.95"),
            ],
            VaryingDifference.Source,
            """{"events_before": [3, 4, 2, 3, 3, 2, 4, 3, 3, 2, 4, 3], "cases_before": [14, 15, 13, 12, 16, 14, 15, 13, 14, 12, 15, 16],"""
                + """ "events_after": [1, 2, 1, 3, 0, 2, 1, 1, 2, 1, 1, 2],"""
                + """ "cases_after": [13, 15, 14, 16, 12, 14, 15, 13, 14, 15, 12, 16]}""",
            Planned),
    ];

    private static JsonObject Test(ComputeInputs inputs)
    {
        var (months, history) = Read(inputs);
        var result = MonthlyTest.Run(months, history, Options(inputs), Chances(inputs, months));
        var start = inputs.Month("start", new Month(2000, 1));
        JsonObject printed = new()
        {
            ["state"] = State(result),
            ["history"] = new JsonObject
            {
                ["months"] = history,
                ["events"] = result.History.Events,
                ["cases"] = result.History.Cases,
            },
            ["limits"] = result.Limits is not { } limits ? null : new JsonObject
            {
                ["worse"] = Numbers.Of(limits.Worse),
                ["better"] = Numbers.Of(limits.Better),
                ["early"] = Numbers.Of(limits.EarlyLogOdds),
            },
            ["log_odds_worse"] = List(result.Reports.Select(report => (double?)report.LogOddsWorse)),
            ["log_odds_better"] = List(result.Reports.Select(report => (double?)report.LogOddsBetter)),
            ["early"] = List(result.Reports.Select(report => report.EarlyLogOdds)),
            ["signals"] = new JsonArray([.. result.Signals.Select(signal => Signal(signal, start))]),
            ["level"] = result.Current is not { } level ? null : new JsonObject
            {
                ["median"] = Numbers.Of(level.Median),
                ["within_80"] = List([level.Likely80.Lower, level.Likely80.Upper]),
                ["within_95"] = List([level.Likely95.Lower, level.Likely95.Upper]),
            },
            ["variation"] = Numbers.Of(result.Variation),
            ["history_unchanged"] = Numbers.Of(result.HistoryUnchanged),
        };
        if (inputs.Has("expected"))
            printed["expected"] = List(result.Reports.Select(report => (double?)report.Expected));
        return printed;
    }

    /// <summary>Without a report nothing was tested: that is not "no sign of change".</summary>
    private static string State(MonthlyTestResult result) =>
        result.IsTooFew ? "too_few_to_judge"
        : result.Reports.IsEmpty ? "nothing_tested_yet"
        : result.Signals.IsEmpty ? "no_sign_of_change"
        : "change_signal";

    private static JsonObject Signal(MonthlySignal signal, Month start) => new()
    {
        ["signal"] = start.AddMonths(signal.Month).ToString(),
        ["way"] = signal.ForTheWorse ? "worse" : "better",
        ["by"] = signal.Leg == SignalLeg.Early ? "early_leg" : "level_filter",
        ["since"] = start.AddMonths(signal.Start.Likeliest).ToString(),
        ["since_from"] = start.AddMonths(signal.Start.From).ToString(),
        ["since_to"] = start.AddMonths(signal.Start.To).ToString(),
        ["since_chance"] = Numbers.Of(signal.Start.Chance),
    };

    private static JsonObject Power(ComputeInputs inputs)
    {
        var (months, history) = Read(inputs);
        var simulation = new ChangeSimulation(
            SplitMix64.Uniform((ulong)inputs.Integer("seed", 0, long.MaxValue, 1)),
            (int)inputs.Integer("months", 1, 36, 12),
            (int)inputs.Integer("replicates", 1, 100_000, 2_000));
        if (months.Max(month => month.Cases) > MostDrawn)
            throw inputs.Wrong("cases", $"has a month of more than {MostDrawn}, where drawing futures takes too long");
        var detection = MonthlyTestPower.Simulate(
            months, history, inputs.Number("changed", 0.001, 0.999), simulation, Options(inputs), Chances(inputs, months));
        return new()
        {
            ["state"] = detection is null ? "too_few_to_judge" : "simulated",
            ["noticed"] = List(detection?.Noticed.Select(chance => (double?)chance) ?? []),
            ["error"] = Numbers.Of(detection?.Error(detection.Noticed.Length)),
            ["median_months"] = detection?.MonthsTo(),
            ["months_to_80"] = detection?.MonthsTo(0.8),
        };
    }

    private static JsonObject Planned(ComputeInputs inputs)
    {
        var result = PlannedComparison.Compare(Side(inputs, "before"), Side(inputs, "after"), inputs.Level());
        JsonObject printed = result.Difference is { } difference
            ? Intervals.Of(difference.Value, difference.Lower, difference.Upper, difference.Level)
            : new() { ["value"] = null, ["lower"] = null, ["upper"] = null, ["level"] = Numbers.Of(inputs.Level()) };
        printed["state"] = result.State switch
        {
            PlannedState.TooFew => "too_few_to_judge",
            PlannedState.Lower => "lower",
            PlannedState.Higher => "higher",
            PlannedState.Unclear => "unclear",
            _ => throw new InvalidOperationException($"a state without a word: {result.State}"),
        };
        printed["before"] = Sum(result.Before);
        printed["after"] = Sum(result.After);
        printed["dispersion"] = Numbers.Of(result.Difference?.Dispersion.Ratio);
        printed["degrees_of_freedom"] = result.Difference?.Dispersion.Degrees;
        return Intervals.Why(printed, result.Difference is not null ? null
            : $"there are fewer than {PlannedComparison.LeastCases} cases on a side, or no event on either");
    }

    private static EventCount[] Side(ComputeInputs inputs, string side) =>
        Events(inputs.Counts(MostMonths, "month", ($"events_{side}", $"cases_{side}")), inputs, $"cases_{side}");

    private static JsonObject Sum(EventCount count) => new() { ["events"] = count.Events, ["cases"] = count.Cases };

    private static (ImmutableArray<EventCount> Months, int History) Read(ComputeInputs inputs)
    {
        ImmutableArray<EventCount> months = [.. Events(inputs.Counts(MostMonths, "month", ("events", "cases")), inputs, "cases")];
        var history = (int)inputs.Integer("history", 1, MostMonths, 12);
        return history <= months.Length
            ? (months, history)
            : throw inputs.Wrong("history", $"is {history} months and there are {months.Length} months of counts");
    }

    private static EventCount[] Events(ImmutableArray<Count> counts, ComputeInputs inputs, string cases) =>
        counts.Sum(count => count.Eligible) <= MostCases
            ? [.. counts.Select(count => EventCount.From(count, metIsUnwelcome: true))]
            : throw inputs.Wrong(cases, $"adds up to more than {MostCases}");

    /// <summary>One list for all months is easier to write than a list a month: the cases say where each month ends.</summary>
    private static ImmutableArray<double>[]? Chances(ComputeInputs inputs, ImmutableArray<EventCount> months)
    {
        if (!inputs.Has("expected"))
            return null;
        var all = inputs.Numbers("expected", 1e-6, 1 - 1e-6);
        var cases = months.Sum(month => month.Cases);
        if (all.Length != cases)
            throw inputs.Wrong("expected", $"has {all.Length} chances for {cases} cases: each case needs one");
        var from = 0;
        return [.. months.Select(month => all.AsSpan()[from..(from += month.Cases)].ToImmutableArray())];
    }

    private static MonthlyTestOptions Options(ComputeInputs inputs) => new()
    {
        Pace = inputs.Choice("pace", "default", "strict", "faster") switch
        {
            "strict" => Statistics.Pace.Strict,
            "faster" => Statistics.Pace.Faster,
            _ => Statistics.Pace.Default,
        },
        Measures = (int)inputs.Integer("measures", 1, 100, 6),
    };

    private static JsonArray List(IEnumerable<double?> values) => new([.. values.Select(value => Numbers.Of(value))]);
}
