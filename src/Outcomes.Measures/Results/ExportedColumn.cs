using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>A column of an exported file, and what it was made from.</summary>
/// <param name="Name">Its name in the file.</param>
/// <param name="SqlType">Its type in the file.</param>
public sealed record ExportedColumn(string Name, string SqlType)
{
    /// <summary>Its heading for people; empty where the definitions give none.</summary>
    public string Title { get; init; } = "";

    /// <summary>
    /// The stored column that it is, or that it takes from one of the first two attempts; null for one that is worked out.
    /// </summary>
    public Column? Stored { get; init; }

    /// <summary>The definition that it is worked out by; null for a stored column, or one that is counted from attempts.</summary>
    public DerivedColumn? Derived { get; init; }

    /// <summary>The codes that it may take; empty where it is not coded.</summary>
    public ImmutableArray<string> Allowed { get; init; } = [];
}

/// <summary>The columns of the two exported files, in their order.</summary>
public sealed record ExportedColumns(ImmutableArray<ExportedColumn> Records, ImmutableArray<ExportedColumn> Attempts);
