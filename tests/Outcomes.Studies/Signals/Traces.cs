using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>ln S of many departments, report by report, and what their histories held.</summary>
internal sealed class Traces
{
    public Traces(int departments) =>
        (LogOdds, Bad, Eligible) = (new double[departments * Departments.Reports], new int[departments], new int[departments]);

    /// <summary>36 numbers a department.</summary>
    public double[] LogOdds { get; }

    /// <summary>Bad events in each history.</summary>
    public int[] Bad { get; }

    /// <summary>Cases in each history.</summary>
    public int[] Eligible { get; }

    public int Count => Bad.Length;

    /// <summary>The largest ln S of a department.</summary>
    public double Most(int index) => Reports(index).Max();

    /// <summary>The first report whose ln S reaches the limit, 0-based; null when none does.</summary>
    public int? First(int index, double limit)
    {
        var reports = Reports(index);
        for (var report = 0; report < reports.Count; report++)
            if (reports[report] >= limit)
                return report;
        return null;
    }

    private ArraySegment<double> Reports(int index) => new(LogOdds, index * Departments.Reports, Departments.Reports);

    /// <summary>The shares of the work are fixed and so is each department's seed: any number of cores gives the same numbers.</summary>
    public static Traces Of(Unit unit, Condition condition, int departments, ulong seed, ChangeOddsOptions options)
    {
        var traces = new Traces(departments);
        var draws = new Departments(unit, condition, seed);
        Parallel.For(0, (departments + 99) / 100, () => new ChangeWalk(options), (share, _, walk) =>
        {
            int[] bad = new int[draws.Months], eligible = new int[draws.Months];
            for (var index = share * 100; index < Math.Min(departments, (share * 100) + 100); index++)
            {
                draws.Draw(index, bad, eligible);
                traces.Follow(index, walk, bad, eligible, unit.History);
            }
            return walk;
        }, _ => { });
        return traces;
    }

    /// <summary>The same for departments that share histories: so many futures in a row have one history.</summary>
    public static Traces OfSharedHistories(Unit unit, int histories, int futures, ulong seed, ChangeOddsOptions options)
    {
        var traces = new Traces(histories * futures);
        Departments pasts = new(unit, Condition.Plain, Seeds.Of(seed, 1)), draws = new(unit, Condition.Plain, Seeds.Of(seed, 2));
        Parallel.For(0, histories, () => new ChangeWalk(options), (share, _, walk) =>
        {
            int[] pastBad = new int[draws.Months], pastEligible = new int[draws.Months], bad = new int[draws.Months],
                eligible = new int[draws.Months];
            pasts.Draw(share, pastBad, pastEligible);
            for (var index = share * futures; index < (share + 1) * futures; index++)
            {
                draws.Draw(index, bad, eligible);
                Array.Copy(pastBad, bad, unit.History);
                Array.Copy(pastEligible, eligible, unit.History);
                traces.Follow(index, walk, bad, eligible, unit.History);
            }
            return walk;
        }, _ => { });
        return traces;
    }

    private void Follow(int index, ChangeWalk walk, int[] bad, int[] eligible, int history)
    {
        walk.Begin(bad.AsSpan(0, history), eligible.AsSpan(0, history));
        Keep(index, bad, eligible, history);
        for (var report = 0; report < Departments.Reports; report++)
        {
            var (worse, better) = walk.Report(bad[history + report], eligible[history + report]);
            LogOdds[(index * Departments.Reports) + report] = Math.Log(worse + better);
        }
    }

    /// <summary>Keeps what a department's history held.</summary>
    public void Keep(int index, ReadOnlySpan<int> bad, ReadOnlySpan<int> eligible, int history)
    {
        for (var month = 0; month < history; month++)
            (Bad[index], Eligible[index]) = (Bad[index] + bad[month], Eligible[index] + eligible[month]);
    }
}
