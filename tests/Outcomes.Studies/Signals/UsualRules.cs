using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>The rules that are usually looked at every month, as they are usually applied.</summary>
internal static class UsualRules
{
    /// <summary>
    /// Gives the first report with an alarm, 0-based, from bad events and cases of history and reports; null when there is none.
    /// </summary>
    public delegate int? Rule(ReadOnlySpan<int> bad, ReadOnlySpan<int> eligible, int history);

    private static readonly int[] RunLimits = [.. Enumerable.Range(0, 61).Select(LongestRunAndCrossings.RunLimit)];
    private static readonly int[] CrossingsLimits = [.. Enumerable.Range(0, 61).Select(LongestRunAndCrossings.CrossingsLimit)];

    /// <summary>Rules that need no limit of their own.</summary>
    public static ImmutableArray<(string Name, Rule First)> All { get; } =
    [
        ("shift of 6", (bad, eligible, history) => Shift(bad, eligible, history, 6)),
        ("shift of 6 for the worse", (bad, eligible, history) => Shift(bad, eligible, history, 6, worseOnly: true)),
        ("shift of 8", (bad, eligible, history) => Shift(bad, eligible, history, 8)),
        ("shift of 8 for the worse", (bad, eligible, history) => Shift(bad, eligible, history, 8, worseOnly: true)),
        ("longest run or crossings", RunOrCrossings),
        ("three-sigma limits", ThreeSigma),
    ];

    /// <summary>
    /// Single measure at 15 % bad, the family of six, and what is noticed; then the same for a CUSUM whose baseline is taken as known.
    /// </summary>
    public static IEnumerable<StudyRow> Rows(double volume, int history, int departments, ulong seed)
    {
        foreach (var (name, rule) in All)
            foreach (var row in Rows(name, _ => rule, volume, history, departments, seed))
                yield return row;
        // Its limit is set as if the rate were known, at the budget of one measure; then it meets departments that only have a history.
        var limits = FalseAlarms.Six.ToDictionary(six => six.Rate,
            six => KnownLimit(new(volume, history, six.Rate), departments, Seeds.Of(seed, volume, history, 300, six.Rate)));
        Rule Cusum(double rate) => (bad, eligible, months) => First(Cusums(bad, eligible, months, null), limits[rate]);
        foreach (var row in Rows("CUSUM with a known baseline", Cusum, volume, history, departments, seed))
            yield return row;
    }

    private static IEnumerable<StudyRow> Rows(string name, Func<double, Rule> rule, double volume, int history, int departments, ulong seed)
    {
        var shares = FalseAlarms.Six.ToDictionary(six => six.Rate, six =>
            Alarms(rule(six.Rate), new(volume, history, six.Rate), departments, Seeds.Of(seed, volume, history, 200, six.Rate))
                .Count(report => report is not null) / (double)departments);
        var single = shares[0.15];
        yield return new("usual rules", volume, history, name, "one measure", single, Math.Sqrt(single * (1 - single) / departments));
        var (family, error) = FalseAlarms.Family(rate => shares[rate], departments);
        yield return new("usual rules", volume, history, name, "six measures", family, error);
    }

    private static int?[] Alarms(Rule rule, Unit unit, int departments, ulong seed)
    {
        var draws = new Departments(unit, Condition.Plain, seed);
        var alarms = new int?[departments];
        Parallel.For(0, (departments + 99) / 100, share =>
        {
            int[] bad = new int[draws.Months], eligible = new int[draws.Months];
            for (var index = share * 100; index < Math.Min(departments, (share * 100) + 100); index++)
            {
                draws.Draw(index, bad, eligible);
                alarms[index] = rule(bad, eligible, unit.History);
            }
        });
        return alarms;
    }

    /// <summary>
    /// So many reports in a row on one side of the history's median; a report on it neither breaks nor lengthens a run. Not tested with the
    /// median at 0 or 100 %, which only one side can pass.
    /// </summary>
    private static int? Shift(ReadOnlySpan<int> bad, ReadOnlySpan<int> eligible, int history, int length, bool worseOnly = false)
    {
        var median = Median(bad, eligible, history);
        if (median is 0 or 1)
            return null;
        var (side, run) = (0, 0);
        for (var month = history; month < bad.Length; month++)
        {
            if (eligible[month] == 0 || Math.Sign(((double)bad[month] / eligible[month]) - median) is var next && next == 0)
                continue;
            (side, run) = (next, next == side ? run + 1 : 1);
            if (run >= length && (side > 0 || !worseOnly))
                return month - history;
        }
        return null;
    }

    /// <summary>
    /// A run chart of every month so far about the history's median, with the limits of its useful points. Not tested with the
    /// median at 0 or 100 %.
    /// </summary>
    private static int? RunOrCrossings(ReadOnlySpan<int> bad, ReadOnlySpan<int> eligible, int history)
    {
        var median = Median(bad, eligible, history);
        if (median is 0 or 1)
            return null;
        var (useful, side, run, longest, crossings) = (0, 0, 0, 0, 0);
        for (var month = 0; month < bad.Length; month++)
        {
            if (eligible[month] > 0 && Math.Sign(((double)bad[month] / eligible[month]) - median) is var next && next != 0)
            {
                if (useful > 0 && next != side)
                    crossings++;
                (useful, side, run) = (useful + 1, next, next == side ? run + 1 : 1);
                longest = Math.Max(longest, run);
            }
            if (month >= history && useful >= 10 && (longest > RunLimits[useful] || crossings < CrossingsLimits[useful]))
                return month - history;
        }
        return null;
    }

    /// <summary>A report further than three standard errors from the history's pooled rate.</summary>
    private static int? ThreeSigma(ReadOnlySpan<int> bad, ReadOnlySpan<int> eligible, int history)
    {
        var (events, cases) = Sum(bad, eligible, history);
        var rate = events / (double)cases;
        for (var month = history; month < bad.Length; month++)
            if (eligible[month] > 0
                && Math.Abs(((double)bad[month] / eligible[month]) - rate) > 3 * Math.Sqrt(rate * (1 - rate) / eligible[month]))
                return month - history;
        return null;
    }

    /// <summary>The larger of two CUSUMs, odds doubled and odds halved, after each report.</summary>
    private static double[] Cusums(ReadOnlySpan<int> bad, ReadOnlySpan<int> eligible, int history, double? known)
    {
        var (events, cases) = Sum(bad, eligible, history);
        var rate = known ?? ((events + 0.5) / (cases + 1));
        var largest = new double[bad.Length - history];
        var (up, down) = (0.0, 0.0);
        for (var month = history; month < bad.Length; month++)
        {
            up = Math.Max(0, up + (bad[month] * Math.Log(2)) - (eligible[month] * Math.Log(1 + rate)));
            down = Math.Max(0, down - (bad[month] * Math.Log(2)) - (eligible[month] * Math.Log(1 - (rate / 2))));
            largest[month - history] = Math.Max(up, down);
        }
        return largest;
    }

    private static double KnownLimit(Unit unit, int departments, ulong seed)
    {
        var draws = new Departments(unit, Condition.Plain, seed);
        var most = new double[departments];
        int[] bad = new int[draws.Months], eligible = new int[draws.Months];
        for (var index = 0; index < departments; index++)
        {
            draws.Draw(index, bad, eligible);
            most[index] = Cusums(bad, eligible, unit.History, unit.Rate).Max();
        }
        Array.Sort(most);
        return most[(int)((1 - ChangeLimit.Fitted) * departments)];
    }

    private static int? First(double[] values, double limit) =>
        Array.FindIndex(values, value => value > limit) is >= 0 and var report ? report : null;

    private static (int Events, int Cases) Sum(ReadOnlySpan<int> bad, ReadOnlySpan<int> eligible, int months)
    {
        var (events, cases) = (0, 0);
        for (var month = 0; month < months; month++)
            (events, cases) = (events + bad[month], cases + eligible[month]);
        return (events, cases);
    }

    private static double Median(ReadOnlySpan<int> bad, ReadOnlySpan<int> eligible, int history)
    {
        List<double> values = [];
        for (var month = 0; month < history; month++)
            if (eligible[month] > 0)
                values.Add((double)bad[month] / eligible[month]);
        return Medians.Find(values) ?? 0;
    }
}
