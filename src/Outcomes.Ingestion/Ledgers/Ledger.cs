using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Ingestion.Ledgers;

/// <summary>Which of several rows with one key counts.</summary>
public enum DuplicatePolicy
{
    /// <summary>The latest good row; the others are superseded.</summary>
    Last,

    /// <summary>The first row, good or not; the others are quarantined.</summary>
    First,
}

/// <summary>The fate of every row of every source, and the sums that must reconcile.</summary>
public sealed class Ledger
{
    // In fewer rows half of them can be corrections.
    private const int FewestRows = 20;

    private readonly ImmutableArray<IngestedSource> _sources;
    private readonly byte[][] _fates;
    private readonly Dictionary<(int Source, int Row), string> _rules;

    internal Ledger(
        ImmutableArray<IngestedSource> sources, byte[][] fates, Dictionary<(int, int), string> rules, ImmutableArray<(int, int)> repeats,
        ImmutableArray<SetAside> replacedAttempts)
    {
        (_sources, _fates, _rules, Repeats, ReplacedAttempts) = (sources, fates, rules, repeats, replacedAttempts);
        Files = [.. sources.Select((source, i) => Count(source.Request.File, fates[i]))];
        for (var i = 0; i < sources.Length; i++)
            if (!Files[i].Balances || Files[i].RowsIn != sources[i].Manifest.Rows)
                throw new InvalidOperationException($"The ledger of {Files[i].File} does not reconcile: {Files[i]}.");
    }

    /// <summary>The sums of each file, in the order of sources; those of traces last.</summary>
    public ImmutableArray<Reconciliation> Files { get; private init; }

    public Reconciliation Total => Reconciliation.Total(Files);

    /// <summary>The fates of samples, a line a record and fate.</summary>
    public ImmutableArray<TraceFate> Traces { get; private init; } = [];

    /// <summary>This ledger with the samples of traces: rows in by file and in total then include theirs.</summary>
    public Ledger With(IReadOnlyList<IngestedSource> traces, bool strict)
    {
        var fates = TraceLedger.Settle(traces, _sources, Of, strict);
        ImmutableArray<Reconciliation> files =
            [.. traces.Select((trace, t) => Count(trace.Request.File, fates.Where(fate => fate.Trace == t)))];
        for (var t = 0; t < traces.Count; t++)
            if (!files[t].Balances || files[t].RowsIn != traces[t].Manifest.Rows)
                throw new InvalidOperationException($"The ledger of {files[t].File} does not reconcile: {files[t]}.");
        return new Ledger(this) { Files = [.. Files, .. files], Traces = [.. fates] };
    }

    /// <summary>Rows quarantined because an earlier row has their key; a bad cell may have quarantined them as well.</summary>
    public ImmutableArray<(int Source, int Row)> Repeats { get; }

    /// <summary>
    /// Attempts in columns that a newer source's attempts of the same record replace: set aside, but no rows of their own.
    /// </summary>
    public ImmutableArray<SetAside> ReplacedAttempts { get; }

    /// <summary>Mended rows whose origin is no longer held.</summary>
    public ImmutableArray<(int Source, int Row)> Strays { get; init; } = [];

    /// <summary>By source, how many of its rows a later row of the same file has taken the place of.</summary>
    public ImmutableArray<int> ReplacedWithin { get; init; } = [];

    /// <summary>
    /// Sources of at least 20 rows more than half of which were replaced within their own file, though the pipeline does not expect it:
    /// the key is most likely mapped to a column that is none.
    /// </summary>
    public IEnumerable<int> WithRepeatedKeys => Enumerable.Range(0, ReplacedWithin.Length).Where(source =>
        Files[source].RowsIn >= FewestRows && 2L * ReplacedWithin[source] > Files[source].RowsIn
            && !_sources[source].Request.RepeatedKeysExpected);

    public Fate Of(int source, int row) => (Fate)_fates[source][row];

    /// <summary>The rule that decided a row's fate; empty where it was accepted.</summary>
    public string RuleOf(int source, int row) => _rules.GetValueOrDefault((source, row), "");

    /// <summary>Every row that is not counted.</summary>
    public IEnumerable<SetAside> SetAside()
    {
        for (var source = 0; source < _fates.Length; source++)
            for (var row = 0; row < _fates[source].Length; row++)
                if (_fates[source][row] != (byte)Fate.Accepted)
                    yield return new SetAside(_sources[source].Request.Order, _sources[source].Manifest.RowsAreAttempts, row);
        foreach (var attempt in ReplacedAttempts)
            yield return attempt;
    }

    /// <summary>
    /// The share of rows in that is quarantined, of records and attempts or of samples, whichever is greater: millions of good samples
    /// must not hide that the records are held, nor the reverse. 0 without rows.
    /// </summary>
    public double QuarantinedShare => Math.Max(Share(Files.Take(_sources.Length)), Share(Files.Skip(_sources.Length)));

    private Ledger(Ledger other) =>
        (_sources, _fates, _rules, Files, Repeats, ReplacedAttempts, Strays, ReplacedWithin) =
        (other._sources, other._fates, other._rules, other.Files, other.Repeats, other.ReplacedAttempts, other.Strays,
            other.ReplacedWithin);

    private static double Share(IEnumerable<Reconciliation> files) =>
        Reconciliation.Total(files) is { RowsIn: > 0 } total ? (double)total.Quarantined / total.RowsIn : 0;

    private static Reconciliation Count(string file, IEnumerable<TraceFate> fates)
    {
        Span<long> sums = stackalloc long[5];
        long rows = 0;
        foreach (var fate in fates)
        {
            sums[(int)fate.Fate] += fate.Rows;
            rows += fate.Rows;
        }

        return new Reconciliation(file, rows, sums[(int)Fate.Accepted], sums[(int)Fate.Superseded], sums[(int)Fate.Withdrawn],
            sums[(int)Fate.Quarantined]);
    }

    private static Reconciliation Count(string file, byte[] fates)
    {
        Span<long> sums = stackalloc long[5];
        foreach (var fate in fates) sums[fate]++;
        return new Reconciliation(file, fates.Length, sums[(int)Fate.Accepted], sums[(int)Fate.Superseded], sums[(int)Fate.Withdrawn],
            sums[(int)Fate.Quarantined]);
    }
}
