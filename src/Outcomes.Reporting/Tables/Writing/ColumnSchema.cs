using System.Collections.Immutable;

namespace Outcomes.Reporting.Tables;

/// <summary>What the cells of a column hold.</summary>
public enum ColumnType
{
    Text,
    Integer,
    Number,

    /// <summary><c>yes</c> or <c>no</c>.</summary>
    YesNo,

    /// <summary>A calendar date, <c>2026-03-31</c>.</summary>
    Date,

    /// <summary>A calendar month, <c>2026-03</c>.</summary>
    Month,
}

/// <summary>One column of a table: what it holds, in plain English, and what is always true of it.</summary>
/// <param name="Name">Its heading.</param>
/// <param name="Type">What its cells hold.</param>
/// <param name="Description">What it means.</param>
public sealed record ColumnSchema(string Name, ColumnType Type, string Description)
{
    /// <summary>A short heading for people; null where the name says as much.</summary>
    public string? Title { get; init; }

    /// <summary>UCUM unit, such as <c>%</c> or <c>d</c>; null where it has none, or where the measure decides.</summary>
    public string? Unit { get; init; }

    /// <summary>True where no cell is empty.</summary>
    public bool Required { get; init; }

    /// <summary>The least possible value; of a date its <see cref="DateOnly.DayNumber"/>.</summary>
    public decimal? Minimum { get; init; }

    public decimal? Maximum { get; init; }

    /// <summary>The values that a text may take; empty where it may take any.</summary>
    public ImmutableArray<string> Allowed { get; init; } = [];

    /// <summary>What people read in place of each value, in the order of <see cref="Allowed"/>; empty where the values say it.</summary>
    public ImmutableArray<string> Labels { get; init; } = [];

    /// <summary>A regular expression that every text matches.</summary>
    public string? Pattern { get; init; }

    /// <summary>The SQL that it is worked out by; null where it is not.</summary>
    public string? Sql { get; init; }
}
