using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>Four risk strata of one measure: how far the log odds of each lie from the middle, and how cases fall into them.</summary>
internal static class Mix
{
    /// <summary>
    /// Log odds of each stratum about the intercept: with equal shares they part bad events from others with an area under the
    /// curve of about 0.70.
    /// </summary>
    public static ImmutableArray<double> Offsets { get; } = [-1.05, -0.35, 0.35, 1.05];

    public static ImmutableArray<double> Equal { get; } = [0.25, 0.25, 0.25, 0.25];

    /// <summary>More of the hard cases: a bad rate of 15 % becomes 19 % without any change of care.</summary>
    public static ImmutableArray<double> Harder { get; } = [0.1, 0.2, 0.3, 0.4];

    /// <summary>Harder still: 15 % becomes 21 %.</summary>
    public static ImmutableArray<double> MuchHarder { get; } = [0.05, 0.15, 0.3, 0.5];

    /// <summary>More of the easy cases: 15 % becomes 11 %.</summary>
    public static ImmutableArray<double> Easier { get; } = [0.4, 0.3, 0.2, 0.1];

    public static double Chance(double logOdds) => 1 / (1 + Math.Exp(-logOdds));

    /// <summary>The mean chance over the strata.</summary>
    public static double Mean(double intercept, ReadOnlySpan<double> offsets, ReadOnlySpan<double> shares)
    {
        var (mean, sum) = (0.0, 0.0);
        for (var stratum = 0; stratum < offsets.Length; stratum++)
            (mean, sum) = (mean + (shares[stratum] * Chance(intercept + offsets[stratum])), sum + shares[stratum]);
        return mean / sum;
    }

    /// <summary>The intercept at which the mean chance is this rate, by halving.</summary>
    public static double Intercept(double rate, ReadOnlySpan<double> offsets, ReadOnlySpan<double> shares)
    {
        var (low, high) = (-20.0, 20.0);
        while (high - low > 1e-12)
        {
            var middle = (low + high) / 2;
            (low, high) = Mean(middle, offsets, shares) < rate ? (middle, high) : (low, middle);
        }
        return (low + high) / 2;
    }
}

/// <summary>Draws departments whose cases fall into strata, month by month.</summary>
/// <param name="unit">Rates are means over equal shares; a change moves the log odds of all strata alike.</param>
/// <param name="correlation">Months move the log odds of all cases by a normal amount of variance ρ/(p(1 − p)): the variance that ρ gives a
/// month at the rate p.</param>
/// <param name="later">Shares of the strata from the thirteenth report on.</param>
/// <param name="seed">Every department has its own seed from it.</param>
internal sealed class MixedDepartments(Unit unit, double correlation, ImmutableArray<double> later, ulong seed)
{
    private readonly PoissonDraw _cases = new(unit.Volume);
    private readonly double _before = Mix.Intercept(unit.Rate, Mix.Offsets.AsSpan(), Mix.Equal.AsSpan());
    private readonly double _after = Mix.Intercept(unit.Changed ?? unit.Rate, Mix.Offsets.AsSpan(), Mix.Equal.AsSpan());
    private readonly double _spread = Math.Sqrt(correlation / (unit.Rate * (1 - unit.Rate)));

    public int Months { get; } = unit.History + Departments.Reports;

    /// <summary>Bad events and cases a month and stratum, all strata of a month together.</summary>
    public void Draw(int index, Span<int> events, Span<int> cases)
    {
        var state = Seeds.Of(seed, index);
        var uniform = SplitMix64.Uniform(state);
        for (var month = 0; month < Months; month++)
        {
            var shares = month >= unit.History + 12 ? later : Mix.Equal;
            var normal = Math.Sqrt(-2 * Math.Log(1 - uniform())) * Math.Cos(2 * Math.PI * uniform());
            var intercept = (month >= unit.History + unit.From ? _after : _before) + (_spread * normal);
            Span<int> strata = cases.Slice(month * shares.Length, shares.Length);
            strata.Clear();
            events.Slice(month * shares.Length, shares.Length).Clear();
            for (var left = _cases.Next(uniform()); left > 0; left--)
            {
                var (stratum, u) = (0, uniform());
                while (stratum < shares.Length - 1 && u >= shares[stratum])
                    u -= shares[stratum++];
                strata[stratum]++;
                if (uniform() < Mix.Chance(intercept + Mix.Offsets[stratum]))
                    events[(month * shares.Length) + stratum]++;
            }
        }
    }
}
