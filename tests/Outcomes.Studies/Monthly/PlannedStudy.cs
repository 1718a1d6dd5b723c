using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Statistics;
using Outcomes.Studies.Signals;

namespace Outcomes.Studies.Monthly;

/// <summary>How often the intervals of the planned comparison and of a year's proportion hold the truth.</summary>
internal static class PlannedStudy
{
    public const string Plain = "plain", Varying = "months vary", VaryingNormal = "months vary: z", OnlyAbove = "months vary: only above 1";

    /// <summary>Ways to look at the difference after the change.</summary>
    public static ImmutableArray<string> LookNames { get; } =
        ["plain: every month", "months vary: every month", "months vary: once in month 12"];

    /// <summary>True rates before and after.</summary>
    public static ImmutableArray<(double Before, double After)> Rates { get; } = [(0.05, 0.05), (0.20, 0.20), (0.21, 0.10)];

    public static ImmutableArray<double> Correlations { get; } = [0, 0.02, 0.05];

    public static ImmutableArray<double> Volumes { get; } = [5, 10, 25, 50];

    private static readonly Dictionary<int, double> Quantiles = [];

    /// <summary>Whether the interval after one look holds the true difference, and whether it leaves out 0.</summary>
    public static IEnumerable<MonthlyRow> Coverage(
        double volume, (int Before, int After) months, (double Before, double After) rates, double correlation, int departments, ulong seed)
    {
        var from = Seeds.Of(seed, volume, months.Before, months.After, rates.Before, rates.After, correlation);
        var counts = new Dictionary<(string Test, string Figure), int>();
        foreach (var (before, after) in Sides(volume, months, rates, correlation, departments, from))
            foreach (var (test, (lower, upper)) in Intervals(before, after))
            {
                Add(counts, (test, "holds"), lower <= rates.After - rates.Before && rates.After - rates.Before <= upper);
                Add(counts, (test, "leaves out 0"), lower > 0 || upper < 0);
            }
        var history = string.Create(CultureInfo.InvariantCulture, $"{months.Before}+{months.After}");
        foreach (var ((test, figure), count) in counts)
            yield return new("planned", volume, history, correlation, test,
                string.Create(CultureInfo.InvariantCulture, $"{100 * rates.Before} > {100 * rates.After} %: {figure}"), count, departments,
                from);
    }

    /// <summary>Departments whose interval leaves out 0 at some look in 24 months, or at the one in month 12.</summary>
    public static IEnumerable<MonthlyRow> Looks(
        double volume, (double Before, double After) rates, double correlation, int departments, ulong seed)
    {
        var from = Seeds.Of(seed, volume, 24, rates.Before, rates.After, correlation);
        var counts = LookNames.ToDictionary(name => name, _ => 0);
        foreach (var (before, after) in Sides(volume, (12, 24), rates, correlation, departments, from))
        {
            var (plain, varying, once) = (false, false, false);
            for (var months = 1; months <= 24; months++)
                foreach (var (test, (lower, upper)) in Intervals(before, after[..months]))
                {
                    var out0 = lower > 0 || upper < 0;
                    plain |= test == Plain && out0;
                    varying |= test == Varying && out0;
                    once |= test == Varying && months == 12 && out0;
                }
            counts[LookNames[0]] += plain ? 1 : 0;
            counts[LookNames[1]] += varying ? 1 : 0;
            counts[LookNames[2]] += once ? 1 : 0;
        }
        foreach (var test in LookNames)
            yield return new("looks", volume, "12+24", correlation, test,
                string.Create(CultureInfo.InvariantCulture, $"{100 * rates.Before} > {100 * rates.After} %"), counts[test], departments,
                from);
    }

    /// <summary>Whether the intervals of a year's proportion hold the true rate.</summary>
    public static IEnumerable<MonthlyRow> Year(double volume, double rate, double correlation, int departments, ulong seed)
    {
        var from = Seeds.Of(seed, volume, 12, rate, correlation);
        var draws = new MonthlyDraws(volume, [.. Enumerable.Repeat(rate, 12)], correlation, from);
        var counts = new Dictionary<string, int>();
        var months = new EventCount[12];
        var z = Normal.TwoSided(0.95);
        for (var index = 0; index < departments; index++)
        {
            draws.Draw(index, months);
            var (all, dispersion) = (MonthDispersion.Sum(months), MonthDispersion.Estimate(months));
            if (all.Cases == 0)
                continue;
            var (t, plain) = (Quantile(dispersion.Degrees), Wilson.Interval(all.Events, all.Cases));
            var varying = VaryingProportion.Interval(all, dispersion.Used, t);
            Add(counts, Plain, Holds(plain, rate));
            Add(counts, Varying, Holds(varying, rate));
            Add(counts, VaryingNormal, Holds(VaryingProportion.Interval(all, dispersion.Used, z), rate));
            Add(counts, OnlyAbove, Holds(dispersion.IsAboveChance ? varying : plain, rate));
        }
        foreach (var (test, count) in counts)
            yield return new("year", volume, "12", correlation, test, StableAndChanged.Name(rate), count, departments, from);
    }

    private static bool Holds(Bounds bounds, double rate) => bounds.Lower <= rate && rate <= bounds.Upper;

    private static IEnumerable<(EventCount[] Before, EventCount[] After)> Sides(
        double volume, (int Before, int After) months, (double Before, double After) rates, double correlation, int departments, ulong seed)
    {
        double[] all = [.. Enumerable.Repeat(rates.Before, months.Before), .. Enumerable.Repeat(rates.After, months.After)];
        var draws = new MonthlyDraws(volume, all, correlation, seed);
        var drawn = new EventCount[all.Length];
        for (var index = 0; index < departments; index++)
        {
            draws.Draw(index, drawn);
            yield return (drawn[..months.Before], drawn[months.Before..]);
        }
    }

    private static IEnumerable<(string Test, Bounds Interval)> Intervals(EventCount[] before, EventCount[] after)
    {
        var (past, since) = (MonthDispersion.Sum(before), MonthDispersion.Sum(after));
        if (past.Cases == 0 || since.Cases == 0)
        {
            // No interval: all differences fit.
            yield return (Plain, new(-1, 1));
            yield return (Varying, new(-1, 1));
            yield break;
        }
        var plain = Difference.Newcombe(new(since.Events, since.Cases, 0), new(past.Events, past.Cases, 0))!;
        yield return (Plain, new(plain.Lower, plain.Upper));
        var dispersion = MonthDispersion.Estimate(before, after);
        var varying = VaryingDifference.Estimate(past, since, dispersion, Quantile(dispersion.Degrees), 0.95)!;
        yield return (Varying, new(varying.Lower, varying.Upper));
    }

    private static double Quantile(int degrees)
    {
        if (!Quantiles.TryGetValue(degrees, out var quantile))
            Quantiles[degrees] = quantile = BetaQuantiles.StudentTwoSided(0.95, degrees);
        return quantile;
    }

    private static void Add<TKey>(Dictionary<TKey, int> counts, TKey key, bool one)
        where TKey : notnull => counts[key] = counts.GetValueOrDefault(key) + (one ? 1 : 0);
}
