using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Reporting.Tables;

/// <summary>One table that a run writes.</summary>
/// <param name="Path">Its file within the set, with forward slashes.</param>
/// <param name="Title">What it holds, in a phrase.</param>
/// <param name="Description">What one row is, and what a reader must know to use it.</param>
/// <param name="Columns">Its columns, in order.</param>
public sealed record TableSchema(string Path, string Title, string Description, ImmutableArray<ColumnSchema> Columns)
{
    /// <summary>The file's name without its extension, unless two files of a set share that.</summary>
    public string Name { get => field ?? System.IO.Path.GetFileNameWithoutExtension(Path); init; }

    /// <summary>The columns that name one row; empty where none do.</summary>
    public ImmutableArray<string> Key { get; init; } = [];

    /// <summary>The part of a pipeline that asks for it, such as <c>case_mix</c>; null where every pipeline has it.</summary>
    public string? AskedBy { get; init; }

    /// <summary>True where it holds single records, or small numbers that no other set may show.</summary>
    public bool DepartmentOnly { get; init; }

    /// <summary>The table whose key some of its columns hold; null where there is none.</summary>
    public TableReference? Refers { get; init; }

    /// <summary>A second such table; null where there is none.</summary>
    public TableReference? RefersToo { get; init; }

    /// <summary>
    /// The words that an export may hold in place of a value, and why there is none then; for tables whose cells without a value are empty
    /// whatever the reason.
    /// </summary>
    public ImmutableArray<MissingToken> LostWords { get; init; } = [];
}

/// <summary>Columns that hold the key of another table.</summary>
/// <param name="Columns">The columns.</param>
/// <param name="Table">The other table's <see cref="TableSchema.Name"/>.</param>
/// <param name="Key">Its columns.</param>
public sealed record TableReference(ImmutableArray<string> Columns, string Table, ImmutableArray<string> Key);
