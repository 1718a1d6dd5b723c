using System.Collections.Immutable;

namespace Outcomes.Records;

/// <summary>
/// One source as it lies in the record store: immutable Parquet files of normalised rows, good and doubtful alike.
/// What is counted is decided by the ledger and by consistency rules, as a view over these files.
/// </summary>
/// <param name="Name">The source's name in the pipeline.</param>
/// <param name="Order">Its place in the order of sources, 0 first; a later source corrects an earlier one.</param>
/// <param name="Folder">Absolute path of its folder in the store.</param>
public sealed record StoredSource(string Name, int Order, string Folder)
{
    /// <summary>
    /// One row a record: <c>row</c> INTEGER (0-based among the source's rows), <c>line</c> INTEGER (physical, 1-based), then the
    /// collected columns. Several files are parts of one table, in no order that matters. Empty for a source of attempts alone.
    /// </summary>
    public ImmutableArray<string> Records { get; init; } = [];

    /// <summary>
    /// One row an attempt: <c>row</c>, <c>line</c> (of the attempt's own row, or of its record where attempts stand in columns),
    /// <c>record_id</c>, <c>attempt_no</c>, then the collected columns. Empty when the source collects no attempts.
    /// </summary>
    public ImmutableArray<string> Attempts { get; init; } = [];

    /// <summary>True when each attempt has a row of its own in the file, false when attempts stand in their record's row.</summary>
    public bool RowsAreAttempts { get; init; }

    /// <summary>
    /// The order of the source whose rows these are, mended: both together are one generation of attempts. Null for an export.
    /// </summary>
    public int? Mends { get; init; }

    /// <summary>
    /// What the traces of its records show, one row a record that has one: <c>row</c> INTEGER, then <see cref="TraceFields"/>. Empty
    /// without any.
    /// </summary>
    public ImmutableArray<string> Summaries { get; init; } = [];

    /// <summary>Procedure fields that come from <see cref="Summaries"/>; all of them are among <see cref="ProcedureFields"/>.</summary>
    public ImmutableHashSet<string> TraceFields { get; init; } = [];

    /// <summary>
    /// Why a cell has no value, where the reason is anything but blank: <c>tab</c> VARCHAR, <c>row</c> INTEGER,
    /// <c>attempt_no</c> INTEGER (0 in records), <c>field</c> VARCHAR, <c>reason</c> VARCHAR (<c>not_applicable</c>, ...).
    /// Empty when every missing cell is blank.
    /// </summary>
    public ImmutableArray<string> Reasons { get; init; } = [];

    /// <summary>Procedure fields that the mapping gives a column or a constant; the others are not collected.</summary>
    public ImmutableHashSet<string> ProcedureFields { get; init; } = [];

    /// <summary>Attempt fields that the mapping gives a column or a constant.</summary>
    public ImmutableHashSet<string> AttemptFields { get; init; } = [];
}

/// <summary>A row that the ledger sets aside: it is in the store but not counted.</summary>
/// <param name="Source">The source's order.</param>
/// <param name="Attempts">True when the row is one of an attempts file.</param>
/// <param name="Row">0-based row within the source's table.</param>
public readonly record struct SetAside(int Source, bool Attempts, int Row);
