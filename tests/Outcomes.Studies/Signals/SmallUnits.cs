using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>
/// Limits that hang less on the luck of a small history: 2 bad events in 20 cases are added to it before its upper rate is taken. The strict pace has them; what they would do for the
/// default, as they are and with the limit lowered until the budget is spent, stands beside. On other departments than those on which 2 and 20 were chosen.
/// </summary>
internal static class SmallUnits
{
    private const double AddedBad = 2, AddedCases = 20;

    public static ImmutableArray<(double Volume, int History)> Cells { get; } = [(5, 12), (5, 24), (10, 12), (10, 24), (25, 12)];

    private static readonly ImmutableArray<(string Name, Pace Pace, bool Added, double Lower)> Schemes =
    [
        ("strict without 20 cases more", Pace.Strict, false, 0), ("strict", Pace.Strict, true, 0),
        ("default", Pace.Default, false, 0), ("default with 20 cases more", Pace.Default, true, 0), ("default with 20 cases more and lower", Pace.Default, true, 0.4),
    ];

    private static readonly ImmutableArray<Condition> Months = [Condition.Plain, Condition.All[2]];

    private static readonly ImmutableArray<(string Name, double Rate, double Changed, int From)> Changes = [.. Detection.Changes.Where(change => change.From <= 12)];

    public static IEnumerable<StudyRow> Rows(double volume, int history, int departments, ulong seed)
    {
        foreach (var condition in Months)
        {
            var traces = FalseAlarms.Six.ToDictionary(six => six.Rate, six => Traces.Of(
                new(volume, history, six.Rate), condition, departments, Seeds.Of(seed, volume, history, 800, six.Rate, condition.Correlation), new()));
            foreach (var scheme in Schemes)
            {
                var (share, error) = FalseAlarms.Family(rate => FalseAlarms.Share(traces[rate], Limit(scheme, traces[rate], history)), departments);
                yield return new("small", volume, history, scheme.Name, $"false alarms: {condition.Name}", share, error);
            }
        }
        // Many histories: a share of 90 % of departments has a standard error of about a point then.
        var (histories, futures) = (Math.Max(10, (int)(departments * (volume < 10 ? 0.2 : 0.05))), Math.Max(20, departments / 40));
        var shared = FalseAlarms.Six.ToDictionary(six => six.Rate, six => Traces.OfSharedHistories(
            new(volume, history, six.Rate), histories, futures, Seeds.Of(seed, volume, history, 802, six.Rate), new()));
        foreach (var scheme in Schemes)
        {
            var families = Conditional.Families(shared, rate => Limit(scheme, shared[rate], history), histories, futures, Seeds.Of(seed, volume, history, 803));
            yield return new("small", volume, history, scheme.Name, "departments with at most 10 %", families.Count(chance => chance <= 0.1) / (double)families.Length);
        }
        foreach (var (name, rate, changed, from) in Changes)
        {
            var traces = Traces.Of(new(volume, history, rate, changed, from), Condition.Plain, departments, Seeds.Of(seed, volume, history, 801, changed, from), new());
            foreach (var scheme in Schemes)
            {
                var delays = Detection.Delays(traces, Limit(scheme, traces, history), from);
                var share = Detection.Within(delays, 12);
                yield return new("small", volume, history, scheme.Name, name, share, Math.Sqrt(share * (1 - share) / delays.Length));
            }
        }
    }

    private static Func<int, double> Limit((string Name, Pace Pace, bool Added, double Lower) scheme, Traces traces, int history)
    {
        ChangeOddsOptions options = new() { Pace = scheme.Pace };
        return index =>
        {
            double bad = traces.Bad[index], cases = traces.Eligible[index];
            if (cases < options.LeastHistoryCases)
                return double.PositiveInfinity;
            var upper = scheme.Added ? ChangeLimit.Upper(bad + AddedBad, cases + AddedCases) : ChangeLimit.Upper(bad, cases);
            return ChangeLimit.AtRate(cases / history, upper, history, options) - (scheme.Lower * AddedCases / (cases + AddedCases));
        };
    }
}
