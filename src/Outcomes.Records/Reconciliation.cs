namespace Outcomes.Records;

/// <summary>What became of an input row.</summary>
public enum Fate : byte
{
    /// <summary>Counted.</summary>
    Accepted,

    /// <summary>A later row with the same key took its place.</summary>
    Superseded,

    /// <summary>Its status column says deleted, or a later row with the same key does.</summary>
    Withdrawn,

    /// <summary>Not counted, kept in <c>quarantine.csv</c> with the reasons.</summary>
    Quarantined,

    /// <summary>The whole file was refused.</summary>
    Refused,
}

/// <summary>How many rows of one file came in, and what became of them.</summary>
public sealed record Reconciliation(string File, long RowsIn, long Accepted, long Superseded, long Withdrawn, long Quarantined)
{
    /// <summary>True when every row in is accounted for.</summary>
    public bool Balances => RowsIn == Accepted + Superseded + Withdrawn + Quarantined;

    /// <summary>The sum over files, under the name <c>total</c>.</summary>
    public static Reconciliation Total(IEnumerable<Reconciliation> files)
    {
        var total = new Reconciliation("total", 0, 0, 0, 0, 0);
        foreach (var f in files)
            total = new("total", total.RowsIn + f.RowsIn, total.Accepted + f.Accepted, total.Superseded + f.Superseded,
                total.Withdrawn + f.Withdrawn, total.Quarantined + f.Quarantined);
        return total;
    }
}
