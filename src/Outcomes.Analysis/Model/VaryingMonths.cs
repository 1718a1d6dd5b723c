using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Proportions over months that vary more than chance, as estimates of their counts.</summary>
public static class VaryingMonths
{
    /// <summary>The proportion of all months together; null where nothing was eligible.</summary>
    public static Estimate? Estimate(IReadOnlyList<Count> months) =>
        Estimate(Sum(months), VaryingProportion.Estimate(Events(months)), VaryingProportion.Method, VaryingProportion.Source);

    /// <summary>The proportion of a level of a stratum; how much its months vary is taken from all levels.</summary>
    public static Estimate? EstimateLevel(IReadOnlyList<Count> level, IReadOnlyList<Count> all) =>
        Estimate(Sum(level), LevelProportion.Estimate(Events(level), Events(all)), LevelProportion.Method, LevelProportion.Source);

    /// <summary>How much months vary, 1 being chance alone; null where there are none to vary.</summary>
    internal static double? Dispersion(IReadOnlyList<Count> months) => MonthDispersion.Estimate(Events(months)).Ratio;

    /// <summary>The plain interval of the same count, as if all cases were independent.</summary>
    public static Estimate? Plain(Estimate? estimate) => estimate is null ? null : Proportion.Estimate(estimate.Count);

    /// <summary>Whether an interval is wider than the plain one since months vary.</summary>
    public static bool IsWider(Estimate? estimate) => estimate?.Method is VaryingProportion.Method or LevelProportion.Method;

    /// <summary>The months of several levels, added month by month.</summary>
    internal static IReadOnlyList<Count> Add(IEnumerable<IReadOnlyList<Count>> levels) =>
        levels.Aggregate((sum, level) => [.. sum.Zip(level, (one, other) => one + other)]);

    private static Estimate? Estimate(Count count, VaryingEstimate? varying, string method, string source) =>
        varying is { Dispersion.IsAboveChance: true }
            ? new(varying.Value, varying.Within.Lower, varying.Within.Upper, varying.Level, method, source, count)
            : Proportion.Estimate(count);

    private static EventCount[] Events(IReadOnlyList<Count> months) =>
        [.. months.Select(month => EventCount.From(month, metIsUnwelcome: true))];

    private static Count Sum(IReadOnlyList<Count> months) => months.Aggregate(default(Count), (sum, month) => sum + month);
}
