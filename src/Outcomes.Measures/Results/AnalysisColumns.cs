using System.Collections.Immutable;

namespace Outcomes.Measures;

/// <summary>A column of a table of the analysis set.</summary>
/// <param name="Column">What it was made from; of a column of reasons, the column without a value.</param>
/// <param name="IsReason">True where it says why that column has no value.</param>
public sealed record AnalysisColumn(ExportedColumn Column, bool IsReason)
{
    /// <summary>What a column of reasons is called.</summary>
    public const string Suffix = "_missing";

    /// <summary>Its name in the table; a reason is that of the whole field, where a field has a column a value.</summary>
    public string Name => !IsReason ? Column.Name : (Column.Stored is { Value: not null } part ? part.Field.Name : Column.Name) + Suffix;
}

/// <summary>The columns that hold something, by table and in their order; the table of measures is the same for all.</summary>
/// <param name="Procedure">One row a record.</param>
/// <param name="Attempt">One row an attempt.</param>
/// <param name="Trace">One row a record with a trace; empty where there is none.</param>
/// <param name="Measures">Ids of the measures that some source can answer.</param>
public sealed record AnalysisColumns(
    ImmutableArray<AnalysisColumn> Procedure, ImmutableArray<AnalysisColumn> Attempt, ImmutableArray<AnalysisColumn> Trace,
    ImmutableArray<string> Measures);

/// <summary>Why a cell of the analysis set is empty.</summary>
public static class AnalysisReason
{
    public const string Blank = "blank";

    /// <summary>A reading too low to measure.</summary>
    public const string Unrecordable = "unrecordable";

    /// <summary>A consistency rule set the value aside.</summary>
    public const string Rule = "set_aside_by_rule";

    /// <summary>The record's source has no such column.</summary>
    public const string NotCollected = "not_collected";

    /// <summary>Every reason, in the order of a codebook.</summary>
    public static ImmutableArray<string> All { get; } =
        [Blank, "not_recorded", "unknown", "withheld", "invalid", "not_applicable", Unrecordable, Rule, NotCollected];
}
