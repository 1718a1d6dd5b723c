using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>ln S of departments that are followed case by case, or with the mix of their cases known.</summary>
internal static class CaseTraces
{
    /// <summary>
    /// The same departments as <see cref="Traces.Of"/>, their months' cases in an order of chance: looked at when a month ends, and
    /// after every case.
    /// </summary>
    public static (Traces End, Traces Any) InOrder(Unit unit, Condition condition, int departments, ulong seed, ChangeOddsOptions options)
    {
        var (end, any) = (new Traces(departments), new Traces(departments));
        var draws = new Departments(unit, condition, seed);
        Follow(departments, () => new CaseWalk(options, [0]), (walk, index) =>
        {
            int[] bad = new int[draws.Months], eligible = new int[draws.Months];
            draws.Draw(index, bad, eligible);
            // Cases of a month are alike but for the month they share: every order is as likely.
            var uniform = SplitMix64.Uniform(Seeds.Of(seed, 17, index));
            walk.Begin(bad.AsSpan(0, unit.History), eligible.AsSpan(0, unit.History));
            end.Keep(index, bad, eligible, unit.History);
            any.Keep(index, bad, eligible, unit.History);
            var order = new bool[eligible.Max()];
            for (var report = 0; report < Departments.Reports; report++)
            {
                var cases = order.AsSpan(0, eligible[unit.History + report]);
                Shuffled(cases, bad[unit.History + report], uniform);
                var (last, most) = walk.Cases(cases);
                end.LogOdds[(index * Departments.Reports) + report] = Math.Log(last);
                any.LogOdds[(index * Departments.Reports) + report] = Math.Log(most);
            }
        });
        return (end, any);
    }

    /// <summary>
    /// Departments with a mix: followed without it, with strata whose log odds are taken to be the given share of the true ones, and at
    /// last with those that the department's own history says: ln((x + ½)/(n − x + ½)) in each stratum, which is what the penalised
    /// logistic model gives.
    /// </summary>
    public static Traces[] WithMix(
        Unit unit, double correlation, ImmutableArray<double> later, int departments, ulong seed, ChangeOddsOptions options,
        params ReadOnlySpan<double> known)
    {
        double[] shares = [.. known];
        Traces[] traces = [.. Enumerable.Range(0, 2 + shares.Length).Select(_ => new Traces(departments))];
        var draws = new MixedDepartments(unit, correlation, later, seed);
        var strata = Mix.Offsets.Length;
        CaseWalk[] Walks() =>
            [.. shares.Append(1).Select(share => new CaseWalk(options, [.. Mix.Offsets.Select(offset => share * offset)]))];
        Follow(departments, () => (Plain: new ChangeWalk(options), Mixed: Walks()), (walks, index) =>
        {
            int[] events = new int[draws.Months * strata], cases = new int[draws.Months * strata];
            draws.Draw(index, events, cases);
            int[] bad = [.. events.Chunk(strata).Select(month => month.Sum())],
                eligible = [.. cases.Chunk(strata).Select(month => month.Sum())];
            var history = unit.History;
            walks.Mixed[^1].Know(Estimated(events.AsSpan(0, history * strata), cases.AsSpan(0, history * strata), strata));
            walks.Plain.Begin(bad.AsSpan(0, history), eligible.AsSpan(0, history));
            foreach (var walk in walks.Mixed)
                walk.Begin(bad.AsSpan(0, history), cases.AsSpan(0, history * strata));
            foreach (var trace in traces)
                trace.Keep(index, bad, eligible, history);
            for (var month = history; month < draws.Months; month++)
            {
                var (worse, better) = walks.Plain.Report(bad[month], eligible[month]);
                var at = (index * Departments.Reports) + month - history;
                traces[0].LogOdds[at] = Math.Log(worse + better);
                for (var i = 0; i < walks.Mixed.Length; i++)
                    traces[i + 1].LogOdds[at] = Math.Log(walks.Mixed[i].Report(bad[month], cases.AsSpan(month * strata, strata)));
            }
        });
        return traces;
    }

    private static double[] Estimated(ReadOnlySpan<int> events, ReadOnlySpan<int> cases, int strata)
    {
        double[] bad = new double[strata], all = new double[strata];
        for (var i = 0; i < cases.Length; i++)
            (bad[i % strata], all[i % strata]) = (bad[i % strata] + events[i], all[i % strata] + cases[i]);
        return [.. bad.Select((x, stratum) => Math.Log((x + 0.5) / (all[stratum] - x + 0.5)))];
    }

    /// <summary>So many bad cases in a row of cases, every order as likely.</summary>
    private static void Shuffled(Span<bool> cases, int bad, Func<double> uniform)
    {
        for (var i = 0; i < cases.Length; i++)
            if (cases[i] = uniform() * (cases.Length - i) < bad)
                bad--;
    }

    private static void Follow<TWalk>(int departments, Func<TWalk> walk, Action<TWalk, int> follow) =>
        Parallel.For(0, (departments + 99) / 100, walk, (share, _, one) =>
        {
            for (var index = share * 100; index < Math.Min(departments, (share * 100) + 100); index++)
                follow(one, index);
            return one;
        }, _ => { });
}
