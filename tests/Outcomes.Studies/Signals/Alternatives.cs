using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>Other constants for the change odds at one budget: each scheme gets, in each cell, the limit that just keeps it.</summary>
internal static class Alternatives
{
    /// <summary>Cells of the comparison: cases a month and months of history.</summary>
    public static ImmutableArray<(double Volume, int History)> Cells { get; } = [(10, 24), (25, 12), (25, 24), (50, 12)];

    /// <summary>What is to be noticed, at a bad rate of 15 %.</summary>
    public static ImmutableArray<(double Changed, int From)> Changes { get; } =
    [
        (0.30, 0), (0.30, 12), (0.25, 0), (0.25, 12), (0.20, 12), (0.45, 12)
    ];

    public static ImmutableArray<(string Name, ChangeOddsOptions Options)> All { get; } =
    [
        ("shipped", new()),
        ("first", ChangeOddsOptions.FirstStudied),
        ("odds ratio 1.5", new() { OddsRatios = [1.5] }),
        ("odds ratio 2", new() { OddsRatios = [2] }),
        ("odds ratios 1.5 and 2", new() { OddsRatios = [1.5, 2] }),
        ("odds ratios 1.5 and 2 and 3", new() { OddsRatios = [1.5, 2, 3] }),
        ("head start 0", new() { HeadStart = 0 }),
        ("head start 6", new() { HeadStart = 6 }),
        ("head start 24", new() { HeadStart = 24 }),
        ("months never vary", new() { Variations = [1e-5], VariationWeights = [1] }),
        ("months vary by .02", new() { Variations = [0.02], VariationWeights = [1] }),
        ("variation near .01", new() { VariationWeights = [0.1, 0.5, 0.25, 0.15] }),
        ("variation 0 or much", new() { Variations = [1e-5, 0.03, 0.08], VariationWeights = [0.4, 0.35, 0.25] }),
        ("three quarters for the worse", new() { WorseWeight = 0.75 }),
    ];

    /// <summary>Shares noticed within 12 months, at the limit that spends the budget where it spends more, ρ 0 or ρ .02.</summary>
    public static IEnumerable<StudyRow> Rows(string name, ChangeOddsOptions options, int departments, ulong seed)
    {
        foreach (var (volume, history) in Cells)
        {
            var unit = new Unit(volume, history, 0.15);
            var limit = new[] { Condition.Plain, Condition.All[2] }.Max(condition =>
                Quantile(Traces.Of(unit, condition, departments, Seeds.Of(seed, volume, history, 600, condition.Correlation), options)));
            foreach (var (changed, from) in Changes)
            {
                var traces = Traces.Of(
                    unit with { Changed = changed, From = from }, Condition.Plain, departments / 2,
                    Seeds.Of(seed, volume, history, 601, changed, from), options);
                var delays = Detection.Delays(traces, _ => limit, from);
                var share = Detection.Within(delays, 12);
                var change = string.Create(CultureInfo.InvariantCulture, $"85 > {100 - (100 * changed)} % in month {from + 1}");
                yield return new("alternatives", volume, history, name, change, share, Math.Sqrt(share * (1 - share) / delays.Length));
            }
        }
    }

    private static double Quantile(Traces traces)
    {
        double[] most = [.. Enumerable.Range(0, traces.Count).Select(traces.Most).Order()];
        return most[(int)((1 - ChangeLimit.Fitted) * most.Length)];
    }
}
