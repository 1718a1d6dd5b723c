using Outcomes.Statistics;

namespace Outcomes.Studies.Monthly;

/// <summary>
/// Draws departments whose rate is given for every month: Poisson cases, at most 110 a month, and beta-binomial events. Every department
/// has its own seed, so one can be drawn alone.
/// </summary>
internal sealed class MonthlyDraws(double volume, double[] rates, double correlation, ulong seed)
{
    private const int Most = 110;
    private readonly PoissonDraw _cases = new(volume);

    public void Draw(int index, Span<EventCount> months)
    {
        var state = seed;
        var uniform = SplitMix64.Uniform(SplitMix64.Next(ref state) ^ (0x9E3779B97F4A7C15UL * ((ulong)index + 1)));
        for (var month = 0; month < months.Length; month++)
        {
            var cases = Math.Min(Most, _cases.Next(uniform()));
            months[month] = new(Events(cases, rates[month], uniform), cases);
        }
    }

    /// <summary>Binomial, or beta-binomial by Pólya's urn: each event makes the next one in its month likelier.</summary>
    private int Events(int cases, double rate, Func<double> uniform)
    {
        var events = 0;
        var size = correlation == 0 ? 0 : (1 / correlation) - 1;
        for (var i = 0; i < cases; i++)
            if (correlation == 0 ? uniform() < rate : uniform() * (size + i) < (rate * size) + events)
                events++;
        return events;
    }
}
