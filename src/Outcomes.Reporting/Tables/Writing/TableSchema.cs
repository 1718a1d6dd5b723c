using System.Collections.Immutable;

namespace Outcomes.Reporting.Tables;

/// <summary>One table that a run writes.</summary>
/// <param name="Path">Its file within the set, with forward slashes.</param>
/// <param name="Title">What it holds, in a phrase.</param>
/// <param name="Description">What one row is, and what a reader must know to use it.</param>
/// <param name="Columns">Its columns, in order.</param>
public sealed record TableSchema(string Path, string Title, string Description, ImmutableArray<ColumnSchema> Columns)
{
    /// <summary>The file's name without its extension.</summary>
    public string Name => System.IO.Path.GetFileNameWithoutExtension(Path);

    /// <summary>The columns that name one row; empty where none do.</summary>
    public ImmutableArray<string> Key { get; init; } = [];

    /// <summary>The part of a pipeline that asks for it, such as <c>case_mix</c>; null where every pipeline has it.</summary>
    public string? AskedBy { get; init; }

    /// <summary>True where it holds single records, or small numbers that no other set may show.</summary>
    public bool DepartmentOnly { get; init; }

    /// <summary>True where the source's own columns follow.</summary>
    public bool HasSourceColumns { get; init; }
}
