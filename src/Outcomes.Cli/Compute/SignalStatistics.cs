using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Cli.Compute;

/// <summary>The statistics of change signals.</summary>
internal static class SignalStatistics
{
    private const int MostHistory = 600;

    private static readonly ComputeInput Pace = new("pace", "text",
        "default, strict, faster or proof: the false alarms allowed, 10, 5, 20 or (proved) 10 %", "default");
    private static readonly ComputeInput Measures = new("measures", "integer", "measures that share the budget, 1 to 100", "6");

    public static ImmutableArray<ComputeStatistic> All { get; } =
    [
        new("change_odds", "has a monthly proportion changed? posterior odds month by month against a limit with a false-alarm budget",
            [
                new("met", "list of integers", "records that met the measure, one number a month in order, history first"),
                new("eligible", "list of integers", "records judged, one number a month; 0 is a month without cases"),
                new("better", "text", "up or down: which way the measure gets better"),
                new("history", "integer", "months of history, at least 1; the rest, at most 36, are reports", "12"),
                new("start", "text", "the first month, such as 2023-04", "2000-01"),
                new("expected", "list of numbers", "to follow the case mix: the chance of the unwelcome answer of every eligible case, "
                    + "0.000001 to 0.999999, month after month", "counts alone"),
                Pace, Measures,
            ],
            ChangeOdds.Source,
            """{"better": "down", "start": "2024-01", "met": [1, 2, 1, 1, 2, 2, 1, 1, 2, 1, 2, 1, 2, 5, 4, 6], "eligible": [9, 11,"""
                + """ 10, 8, 12, 10, 9, 11, 10, 10, 12, 8, 10, 9, 11, 10]}""",
            Odds),
        new("change_power", "the chance that a department of that size notices a change with change_odds, within 1, 2, 3 ... months",
            [
                new("volume", "number", "mean eligible cases a month, 0.1 to 500"),
                new("met", "number", "the proportion met before the change, 0.001 to 0.999"),
                new("changed", "number", "the proportion met after it, 0.001 to 0.999"),
                new("better", "text", "up or down: which way the measure gets better"),
                new("history", "integer", "months of history, 12 to 120", "12"),
                new("stable", "integer", "reports before the change, 0 to 35", "0"),
                new("months", "integer", "months ahead, 1 to 36, cut to what is left of 36 reports", "12"),
                Pace, Measures,
                new("seed", "integer", "seed of the simulation, 0 or more", "1"),
                new("replicates", "integer", "departments simulated, 1 to 100000", "2000"),
            ],
            $"{ChangeOdds.Source}; simulated",
            """{"volume": 10, "met": 0.85, "changed": 0.70, "better": "up", "history": 24}""",
            Power),
    ];

    private static JsonObject Odds(ComputeInputs inputs)
    {
        var options = Options(inputs);
        var counts = inputs.Counts(MostHistory + options.Horizon);
        var months = (int)inputs.Integer("history", 1, MostHistory, options.LeastHistoryMonths);
        if (counts.Length < months)
            throw inputs.Wrong("history", $"is {months} months and there are {counts.Length} months of counts");
        if (counts.Length > months + options.Horizon)
            throw inputs.Wrong("met", $"has {counts.Length - months} reports after the history; the budget covers {options.Horizon}");
        var reading = ChangeOdds.Read(counts[..months], counts[months..], Way(inputs), Expected(inputs, counts), options);
        var first = inputs.Month("start", new Month(2000, 1)).AddMonths(months);
        JsonObject result = new()
        {
            ["state"] = Word(reading.State),
            ["history"] = new JsonObject { ["months"] = months, ["met"] = reading.History.Met, ["eligible"] = reading.History.Eligible },
            ["limit"] = Numbers.Of(reading.Limit),
            ["log_odds"] = new JsonArray([.. reading.Months.Select(month => Numbers.Of(month.LogOdds))]),
            ["worse_share"] = new JsonArray([.. reading.Months.Select(month => Numbers.Of(month.WorseShare))]),
            ["variation"] = Numbers.Of(reading.Variation),
            ["change"] = reading.Change is { } change ? Of(change, first) : null,
        };
        if (inputs.Has("expected"))
            result["expected"] = new JsonArray([.. reading.Months.Select(month => Numbers.Of(month.Expected))]);
        return result;
    }

    /// <summary>One list for all months is easier to write than a list a month: the eligible cases say where each month ends.</summary>
    private static ImmutableArray<double>[]? Expected(ComputeInputs inputs, ImmutableArray<Count> counts)
    {
        if (!inputs.Has("expected"))
            return null;
        var all = inputs.Numbers("expected", 1e-6, 1 - 1e-6);
        if (all.Length != counts.Sum(count => count.Eligible))
            throw inputs.Wrong("expected",
                $"has {all.Length} chances for {counts.Sum(count => count.Eligible)} eligible cases: each case needs one");
        var from = 0;
        return [.. counts.Select(count => all.AsSpan()[from..(from += (int)count.Eligible)].ToImmutableArray())];
    }

    private static JsonObject Of(Change change, Month first) => new()
    {
        ["signal"] = first.AddMonths(change.Report).ToString(),
        ["way"] = change.ForTheWorse ? "worse" : "better",
        ["since"] = first.AddMonths(change.Start.Likeliest).ToString(),
        ["since_from"] = first.AddMonths(change.Start.From).ToString(),
        ["since_to"] = first.AddMonths(change.Start.To).ToString(),
        ["since_chance"] = Numbers.Of(change.Start.Chance),
        ["provisional"] = Rate(change.Since),
        ["after"] = Rate(change.After),
    };

    private static JsonObject? Rate(Estimate? estimate) => estimate is null ? null : new()
    {
        ["value"] = Numbers.Of(estimate.Value),
        ["lower"] = Numbers.Of(estimate.Lower),
        ["upper"] = Numbers.Of(estimate.Upper),
        ["met"] = estimate.Count.Met,
        ["eligible"] = estimate.Count.Eligible,
    };

    private static JsonObject Power(ComputeInputs inputs)
    {
        var options = Options(inputs);
        var plan = new PlannedChange(
            inputs.Number("volume", 0.1, 500), inputs.Number("met", 0.001, 0.999), inputs.Number("changed", 0.001, 0.999),
            (int)inputs.Integer("history", options.LeastHistoryMonths, 120, options.LeastHistoryMonths),
            (int)inputs.Integer("stable", 0, options.Horizon - 1, 0),
            Way(inputs));
        var simulation = new ChangeSimulation(
            SplitMix64.Uniform((ulong)inputs.Integer("seed", 0, long.MaxValue, 1)),
            (int)inputs.Integer("months", 1, options.Horizon, 12),
            (int)inputs.Integer("replicates", 1, 100_000, 2_000));
        var detection = ChangePower.OfPlan(plan, simulation, options);
        return new()
        {
            ["noticed"] = new JsonArray([.. detection.Noticed.Select(chance => Numbers.Of(chance))]),
            ["error"] = Numbers.Of(detection.Error(detection.Noticed.Length)),
            ["median_months"] = detection.MonthsTo(),
            ["months_to_80"] = detection.MonthsTo(0.8),
        };
    }

    private static ChangeOddsOptions Options(ComputeInputs inputs) => new()
    {
        Pace = inputs.Choice("pace", "default", "strict", "faster", "proof") switch
        {
            "strict" => Statistics.Pace.Strict,
            "faster" => Statistics.Pace.Faster,
            "proof" => Statistics.Pace.Proof,
            _ => Statistics.Pace.Default,
        },
        Measures = (int)inputs.Integer("measures", 1, 100, 6),
    };

    private static Better Way(ComputeInputs inputs) => inputs.Choice("better", "up", "down") == "up" ? Better.Up : Better.Down;

    private static string Word(ChangeState state) => state switch
    {
        ChangeState.TooFewToJudge => "too_few_to_judge",
        ChangeState.NoSignOfChange => "no_sign_of_change",
        ChangeState.ChangeSignal => "change_signal",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "a state without a word"),
    };
}
