using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>
/// Draws departments of one kind: cases and bad events month by month. Every department has its own seed, so the order of work
/// does not matter.
/// </summary>
internal sealed class Departments
{
    public const int Reports = 36;

    private readonly Unit _unit;
    private readonly Condition _condition;
    private readonly double[][] _poisson;
    private readonly ulong _seed;

    public Departments(Unit unit, Condition condition, ulong seed)
    {
        (_unit, _condition, _seed) = (unit, condition, seed);
        Months = unit.History + Reports;
        _poisson = [.. Enumerable.Range(0, Months)
            .Select(month => Poisson(unit.Volume * Math.Pow(condition.Growth, month / (Months - 1.0))))];
    }

    public int Months { get; }

    /// <summary>Department number <paramref name="index"/>.</summary>
    public void Draw(int index, Span<int> bad, Span<int> eligible)
    {
        var state = Start(_seed, index);
        var uniform = SplitMix64.Uniform(SplitMix64.Next(ref state));
        var emptyFrom = _condition.Empty == 0 ? Months : _unit.History + (int)(uniform() * (Reports - _condition.Empty + 1));
        var phase = _condition.Season ? uniform() : 0;
        for (var month = 0; month < Months; month++)
        {
            var cases = month >= emptyFrom && month < emptyFrom + _condition.Empty ? 0 : Search(_poisson[month], uniform());
            if (_condition.Unrecorded > 0)
                cases -= Trials(cases, _condition.Unrecorded, uniform);
            var events = Events(cases, Rate(month, phase), uniform);
            if (_condition.BadLost > 0 && month >= _unit.History + 12)
            {
                var lost = Trials(events, _condition.BadLost, uniform);
                (cases, events) = (cases - lost, events - lost);
            }
            (bad[month], eligible[month]) = (events, cases);
        }
    }

    private double Rate(int month, double phase)
    {
        var rate = _unit.Changed is { } changed && month >= _unit.History + _unit.From ? changed : _unit.Rate;
        return _condition.Season
            ? Math.Clamp(rate + (Condition.Swing(_unit.Rate) * Math.Sin(2 * Math.PI * ((month / 12.0) + phase))), 0.002, 0.998)
            : rate;
    }

    /// <summary>Binomial, or beta-binomial by Pólya's urn: each bad event makes the next one in its month likelier.</summary>
    private int Events(int cases, double rate, Func<double> uniform)
    {
        if (_condition.Correlation == 0)
            return Trials(cases, rate, uniform);
        var size = (1 / _condition.Correlation) - 1;
        var events = 0;
        for (var i = 0; i < cases; i++)
            if (uniform() * (size + i) < (rate * size) + events)
                events++;
        return events;
    }

    private static int Trials(int cases, double rate, Func<double> uniform)
    {
        var events = 0;
        for (var i = 0; i < cases; i++)
            if (uniform() < rate)
                events++;
        return events;
    }

    private static ulong Start(ulong seed, int index)
    {
        var state = seed;
        return SplitMix64.Next(ref state) ^ (0x9E3779B97F4A7C15UL * ((ulong)index + 1));
    }

    private static int Search(double[] cumulative, double uniform)
    {
        var i = 0;
        while (i < cumulative.Length - 1 && cumulative[i] <= uniform)
            i++;
        return i;
    }

    private static double[] Poisson(double mean)
    {
        var cumulative = new List<double>();
        var term = Math.Exp(-mean);
        for (var sum = term; ; sum += term)
        {
            cumulative.Add(sum);
            term *= mean / cumulative.Count;
            if (cumulative.Count > mean && term < 1e-17)
                return [.. cumulative];
        }
    }
}
