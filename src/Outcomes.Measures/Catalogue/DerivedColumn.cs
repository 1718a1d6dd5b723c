using System.Collections.Immutable;

namespace Outcomes.Measures.Catalogue;

/// <summary>What a derived column holds.</summary>
public enum DerivedType
{
    YesNo,
    Integer,
    Number,
    Code,
}

/// <summary>A column worked out from others in every query, never stored.</summary>
/// <param name="Id">Its name in conditions.</param>
/// <param name="Type">What it holds.</param>
/// <param name="Sql">Its SQL.</param>
public sealed record DerivedColumn(string Id, DerivedType Type, string Sql)
{
    /// <summary>Its heading for people.</summary>
    public string Title { get; init; } = "";

    /// <summary>UCUM unit of a number; empty for none.</summary>
    public string Unit { get; init; } = "";

    /// <summary>
    /// What people read in place of its values, where they need other words; <c>yes</c> and <c>no</c> for a yes/no column.
    /// </summary>
    public ImmutableDictionary<string, string> Values { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>The order in which its values are printed; empty where none is given.</summary>
    public ImmutableArray<string> Order { get; init; } = [];

    /// <summary>
    /// Alternatives: a source that collects every column of one group can give it. Empty means every column that
    /// <see cref="Sql"/> names.
    /// </summary>
    public ImmutableArray<ImmutableArray<string>> Needs { get; init; } = [];

    public string Why { get; init; } = "";

    public string File { get; init; } = "";

    public int Line { get; init; }
}
