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
    private readonly ImmutableArray<IngestedSource> _sources;
    private readonly byte[][] _fates;
    private readonly Dictionary<(int Source, int Row), string> _rules;

    internal Ledger(
        ImmutableArray<IngestedSource> sources, byte[][] fates, Dictionary<(int, int), string> rules, ImmutableArray<(int, int)> repeats, ImmutableArray<SetAside> replacedAttempts)
    {
        (_sources, _fates, _rules, Repeats, ReplacedAttempts) = (sources, fates, rules, repeats, replacedAttempts);
        Files = [.. sources.Select((source, i) => Count(source.Request.File, fates[i]))];
        Total = Reconciliation.Total(Files);
        for (var i = 0; i < sources.Length; i++)
            if (!Files[i].Balances || Files[i].RowsIn != sources[i].Manifest.Rows)
                throw new InvalidOperationException($"The ledger of {Files[i].File} does not reconcile: {Files[i]}.");
    }

    /// <summary>The sums of each file, in the order of sources.</summary>
    public ImmutableArray<Reconciliation> Files { get; }

    public Reconciliation Total { get; }

    /// <summary>Rows quarantined because an earlier row has their key; a bad cell may have quarantined them as well.</summary>
    public ImmutableArray<(int Source, int Row)> Repeats { get; }

    /// <summary>Attempts in columns that a newer source's attempts of the same record replace: set aside, but no rows of their own.</summary>
    public ImmutableArray<SetAside> ReplacedAttempts { get; }

    /// <summary>Mended rows whose origin is no longer held.</summary>
    public ImmutableArray<(int Source, int Row)> Strays { get; init; } = [];

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

    /// <summary>The share of rows in that is quarantined; 0 without rows.</summary>
    public double QuarantinedShare => Total.RowsIn == 0 ? 0 : (double)Total.Quarantined / Total.RowsIn;

    private static Reconciliation Count(string file, byte[] fates)
    {
        Span<long> sums = stackalloc long[5];
        foreach (var fate in fates) sums[fate]++;
        return new Reconciliation(file, fates.Length, sums[(int)Fate.Accepted], sums[(int)Fate.Superseded], sums[(int)Fate.Withdrawn], sums[(int)Fate.Quarantined]);
    }
}
