using MathNet.Numerics.Distributions;
using Outcomes.Statistics;
using Outcomes.Studies.Signals;

namespace Outcomes.Studies.Monthly;

/// <summary>Draws one measure of a department under another condition. Every department has its own seed.</summary>
internal sealed class ConditionDraws(
    MonthlyCondition condition, double volume, int history, double[] rates, double correlation, ulong seed)
{
    private readonly PoissonDraw _before = new(volume), _after = new(volume * condition.Factor);

    public void Draw(int index, Span<EventCount> months)
    {
        var uniform = DepartmentSeed.Uniform(seed, index);
        for (var month = 0; month < months.Length; month++)
        {
            var cases = (month < history + MonthlyCondition.From ? _before : _after).Next(uniform());
            var (events, lostEvents, lost) = (0, 0, 0);
            var size = correlation == 0 ? 0 : (1 / correlation) - 1;
            for (var i = 0; i < cases; i++)
            {
                // Beta-binomial by Pólya's urn: each event makes the next one in its month likelier, recorded or not.
                var happened = correlation == 0 ? uniform() < rates[month] : uniform() * (size + i) < (rates[month] * size) + events;
                events += happened ? 1 : 0;
                if (condition.Missing == 0 || uniform() >= condition.Missing)
                    continue;
                lost++;
                lostEvents += happened ? 1 : 0;
            }
            months[month] = new(events - lostEvents, cases - lost);
        }
    }
}

/// <summary>Draws six measures of a department that have months, or patients, in common.</summary>
internal sealed class SixDraws
{
    private const int Quantiles = 4_096;

    private readonly Togetherness _together;
    private readonly PoissonDraw _cases;
    private readonly ulong _seed;
    private readonly double[][] _rates;

    public SixDraws(Togetherness together, double volume, ulong seed)
    {
        (_together, _cases, _seed) = (together, new(volume), seed);
        _rates = [.. Rates.Select(rate => Monthly(rate, together.Correlation))];
    }

    public static double[] Rates { get; } = [.. FalseAlarms.Six.SelectMany(six => Enumerable.Repeat(six.Rate, six.Measures))];

    /// <param name="index">Which department.</param>
    /// <param name="measures">The months of each measure, in the order of <see cref="Rates"/>.</param>
    public void Draw(int index, EventCount[][] measures)
    {
        var uniform = DepartmentSeed.Uniform(_seed, index);
        Span<int> events = stackalloc int[Rates.Length];
        for (var month = 0; month < measures[0].Length; month++)
        {
            var (cases, at) = (_cases.Next(uniform()), (int)(uniform() * Quantiles));
            events.Clear();
            for (var i = 0; i < cases; i++)
            {
                var patient = uniform();
                for (var measure = 0; measure < Rates.Length; measure++)
                    if ((_together.SameCases ? patient : uniform()) < _rates[measure][at])
                        events[measure]++;
            }
            for (var measure = 0; measure < Rates.Length; measure++)
                measures[measure][month] = new(events[measure], cases);
        }
    }

    // The middle of each of so many equal parts of the beta distribution.
    private static double[] Monthly(double rate, double correlation)
    {
        if (correlation == 0)
            return [.. Enumerable.Repeat(rate, Quantiles)];
        var size = (1 / correlation) - 1;
        return [.. Enumerable.Range(0, Quantiles).Select(i => Beta.InvCDF(rate * size, (1 - rate) * size, (i + 0.5) / Quantiles))];
    }
}

/// <summary>The uniform numbers of one department.</summary>
internal static class DepartmentSeed
{
    public static Func<double> Uniform(ulong seed, int index)
    {
        var state = seed;
        return SplitMix64.Uniform(SplitMix64.Next(ref state) ^ (0x9E3779B97F4A7C15UL * ((ulong)index + 1)));
    }
}
