using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>
/// Limits that hang less on the luck of a small history: cases are added to it before its upper rate is taken. What the paces
/// would do without them, and the default with them and not lowered, stands beside. On other departments than those on which the
/// numbers were chosen.
/// </summary>
internal static class SmallUnits
{
    public static ImmutableArray<(double Volume, int History)> Cells { get; } = [(5, 12), (5, 24), (10, 12), (10, 24), (25, 12), (25, 24)];

    private static readonly ChangeLimitCurve Shipped = new ChangeOddsOptions().LimitCurve,
        Alone = Shipped with { AddedCases = 0, AddedBad = 0 };

    private static readonly ImmutableArray<(string Name, Pace Pace, ChangeLimitCurve Curve)> Schemes =
    [
        ("strict without 20 cases more", Pace.Strict, Alone), ("strict", Pace.Strict, Shipped),
        ("default without 20 cases more", Pace.Default, Alone), ("default with 20 cases more: not lower", Pace.Default,
            Shipped with { Lowered = 0 }), ("default", Pace.Default, Shipped), ("faster without 20 cases more", Pace.Faster, Alone),
        ("faster", Pace.Faster, Shipped),
    ];

    private static readonly ImmutableArray<Condition> Months = [Condition.Plain, Condition.All[2]];

    private static readonly ImmutableArray<(string Name, double Rate, double Changed, int From)> Changes =
        [.. Detection.Changes.Where(change => change.From <= 12)];

    public static IEnumerable<StudyRow> Rows(double volume, int history, int departments, ulong seed)
    {
        foreach (var condition in Months)
        {
            var traces = FalseAlarms.Six.ToDictionary(six => six.Rate, six => Traces.Of(
                new(volume, history, six.Rate), condition, departments,
                Seeds.Of(seed, volume, history, 800, six.Rate, condition.Correlation), new()));
            foreach (var scheme in Schemes)
            {
                var (share, error) =
                    FalseAlarms.Family(rate => FalseAlarms.Share(traces[rate], Limit(scheme, traces[rate], history)), departments);
                yield return new("small", volume, history, scheme.Name, $"false alarms: {condition.Name}", share, error);
            }
        }
        // Many histories: a share of 90 % of departments has a standard error of about a point then.
        var (histories, futures) = (Math.Max(10, (int)(departments * (volume < 10 ? 0.2 : 0.05))), Math.Max(20, departments / 40));
        var shared = FalseAlarms.Six.ToDictionary(six => six.Rate, six => Traces.OfSharedHistories(
            new(volume, history, six.Rate), histories, futures, Seeds.Of(seed, volume, history, 802, six.Rate), new()));
        foreach (var scheme in Schemes)
        {
            var families = Conditional.Families(shared, rate => Limit(scheme, shared[rate], history), histories, futures,
                Seeds.Of(seed, volume, history, 803));
            yield return new("small", volume, history, scheme.Name, "departments with at most 10 %",
                families.Count(chance => chance <= 0.1) / (double)families.Length);
        }
        foreach (var (name, rate, changed, from) in Changes)
        {
            var traces = Traces.Of(new(volume, history, rate, changed, from), Condition.Plain, departments,
                Seeds.Of(seed, volume, history, 801, changed, from), new());
            foreach (var scheme in Schemes)
            {
                var delays = Detection.Delays(traces, Limit(scheme, traces, history), from);
                var share = Detection.Within(delays, 12);
                yield return new("small", volume, history, scheme.Name, name, share, Math.Sqrt(share * (1 - share) / delays.Length));
            }
        }
    }

    private static Func<int, double> Limit((string Name, Pace Pace, ChangeLimitCurve Curve) scheme, Traces traces, int history) =>
        new Scheme(new() { LimitCurve = scheme.Curve }, []).Limit(scheme.Pace, 0, traces, history);
}
