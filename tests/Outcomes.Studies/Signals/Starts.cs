using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>What a signal says beside "changed": the way, the start with its range, the rate since.</summary>
internal static class Starts
{
    public static IEnumerable<StudyRow> Rows(double volume, int history, double rate, double changed, int departments, ulong seed)
    {
        const int from = 12;
        var draws = new Departments(new(volume, history, rate, changed, from), Condition.Plain,
            Seeds.Of(seed, volume, history, 500, changed));
        var changes = new Change?[departments];
        Parallel.For(0, departments, index =>
        {
            int[] bad = new int[draws.Months], eligible = new int[draws.Months];
            draws.Draw(index, bad, eligible);
            Count[] counts = [.. bad.Zip(eligible, (events, cases) => new Count(events, cases, 0))];
            changes[index] = ChangeOdds.Read(counts[..history], counts[history..], Better.Down).Change;
        });
        Change[] signals = [.. changes.OfType<Change>().Where(change => change.Report >= from)];
        var name = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{100 - (100 * rate)} > {100 - (100 * changed)} %");
        StudyRow Row(string figure, double value, bool share) => new(
            "signals", volume, history, name, figure, value, share ? Math.Sqrt(value * (1 - value) / signals.Length) : null);
        double Share(Func<Change, bool> holds) => signals.Count(holds) / (double)signals.Length;
        yield return Row("way is right", Share(change => change.ForTheWorse == changed > rate), share: true);
        yield return Row("start in the range", Share(change => change.Start.From <= from && from <= change.Start.To), share: true);
        yield return Row("likeliest start within 2 months", Share(change => Math.Abs(change.Start.Likeliest - from) <= 2), share: true);
        yield return Row("months in the range", signals.Average(change => change.Start.To - change.Start.From + 1), share: false);
        yield return Row("mean rate shown", signals.Average(change => change.Since!.Value), share: false);
        yield return Row("mean rate after",
            signals.Where(change => change.After is not null).Average(change => change.After!.Value), share: false);
    }
}
