using Outcomes.CaseMix;
using Outcomes.Statistics;

namespace Outcomes.Studies.CaseMix;

/// <summary>Departments with four fields, each normal, that together move the log odds with a stated spread; 20 % bad.</summary>
/// <param name="Volume">Mean cases a month.</param>
/// <param name="Spread">Standard deviation of the log odds.</param>
/// <param name="Shift">By how many standard deviations of the log odds the mix is harder later.</param>
/// <param name="Odds">What the odds are multiplied by later.</param>
/// <param name="Missing">Share of cases that lack the first field, at random, throughout.</param>
internal sealed record FourFields(double Volume, double Spread, double Shift, double Odds = 1, double Missing = 0)
{
    private const int Fields = 4;

    // Bad cases of a hundred in the history, whatever the spread.
    private const double Rate = 0.20;

    private double? _level;

    /// <param name="history">Months of history.</param>
    /// <param name="months">All months.</param>
    /// <param name="later">The month from which mix and odds are others.</param>
    /// <param name="uniform">Uniform numbers.</param>
    /// <param name="chances">Takes each case's true chance, and what it would have been at the odds of the history.</param>
    public MixedMonths Draw(int history, int months, int later, Func<double> uniform, List<(double True, double Before)>? chances = null)
    {
        var cases = new PoissonDraw(Volume);
        var level = _level ??= Level();
        List<int> month = [];
        List<bool> events = [];
        List<double?>[] fields = [.. Enumerable.Range(0, Fields).Select(_ => new List<double?>())];
        for (var at = 0; at < months; at++)
            for (var n = cases.Next(uniform()); n > 0; n--)
            {
                var odds = level;
                for (var field = 0; field < Fields; field++)
                {
                    var value = Normal(uniform) + (at >= later ? Shift / Math.Sqrt(Fields) : 0);
                    odds += Spread / Math.Sqrt(Fields) * value;
                    fields[field].Add(field == 0 && Missing > 0 && uniform() < Missing ? null : value);
                }

                var chance = Logit.Chance(odds + (at >= later ? Math.Log(Odds) : 0));
                month.Add(at);
                events.Add(uniform() < chance);
                chances?.Add((chance, Logit.Chance(odds)));
            }

        return new(history, [.. month], [.. events],
            [.. fields.Select((values, field) => Covariate.Quantity(FormattableString.Invariant($"field {field + 1}"), values))]);
    }

    // The level at which the history has 20 % bad: the mean over the middles of a thousand slices of the normal distribution.
    private double Level()
    {
        double[] slices =
            [.. Enumerable.Range(0, 1_000).Select(i => MathNet.Numerics.Distributions.Normal.InvCDF(0, Spread, (i + 0.5) / 1_000))];
        var (low, high) = (-6.0, 2.0);
        for (var step = 0; step < 60; step++)
        {
            var middle = (low + high) / 2;
            (low, high) = slices.Average(each => Logit.Chance(middle + each)) > Rate ? (low, middle) : (middle, high);
        }

        return low;
    }

    private static double Normal(Func<double> uniform) =>
        Math.Sqrt(-2 * Math.Log(1 - uniform())) * Math.Cos(2 * Math.PI * uniform());
}
