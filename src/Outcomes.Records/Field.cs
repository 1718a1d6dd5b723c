using System.Collections.Immutable;

namespace Outcomes.Records;

/// <summary>What a cell of a field holds.</summary>
public enum FieldType
{
    /// <summary>Opaque text, such as a key.</summary>
    Text,

    /// <summary>One of the field's allowed values.</summary>
    Code,

    /// <summary>Any number of the allowed values at once; becomes one yes/no column a value.</summary>
    Set,

    /// <summary>Yes or no; "unknown" is a reason for a missing value, not a third value.</summary>
    YesNo,

    /// <summary>A whole number.</summary>
    Integer,

    /// <summary>A decimal number.</summary>
    Number,

    /// <summary>A calendar date.</summary>
    Date,

    /// <summary>A time of day, kept as whole minutes since midnight.</summary>
    Time,
}

/// <summary>How far a field could point at a person.</summary>
public enum Identifying
{
    /// <summary>Not identifying by itself.</summary>
    None,

    /// <summary>Identifying in combination: coarsened in whatever leaves the department.</summary>
    Quasi,

    /// <summary>May hold a direct identifier: off by default and never exported.</summary>
    DirectRisk,
}

/// <summary>
/// A closed range; either end may be open (null). Dates are counted in <see cref="DateOnly.DayNumber"/>, times in minutes since
/// midnight.
/// </summary>
public readonly record struct Interval(decimal? Minimum, decimal? Maximum)
{
    public bool Contains(decimal value) => !(value < Minimum) && !(value > Maximum);
}

/// <summary>One field of the dictionary: what a value of it may be, and what it means.</summary>
/// <param name="Name">The field's name in conditions, tables and files.</param>
/// <param name="Table">The table it belongs to: <c>procedure</c>, <c>attempt</c> or <c>trace</c>.</param>
/// <param name="Type">What a cell holds.</param>
/// <param name="Title">A short heading for people.</param>
/// <param name="Description">What is to be recorded, in a sentence or two.</param>
public sealed record Field(string Name, string Table, FieldType Type, string Title, string Description)
{
    /// <summary>UCUM unit of a number, such as <c>%</c>, <c>mm[Hg]</c>, <c>s</c>; null where it has none.</summary>
    public string? Unit { get; init; }

    /// <summary>The allowed values of a code or set, in display order; empty for other types.</summary>
    public ImmutableArray<string> Allowed { get; init; } = [];

    /// <summary>What people read in place of an allowed value, where the dictionary says; see <see cref="TitleOf"/>.</summary>
    public ImmutableDictionary<string, string> Labels { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>An allowed value as people read it: its label, or else its own words.</summary>
    public string TitleOf(string value) => Labels.GetValueOrDefault(value) ?? Readable.Words(value);

    /// <summary>Outside this range a value is doubtful: kept, with a warning.</summary>
    public Interval? Plausible { get; init; }

    /// <summary>Outside this range a value is refused and becomes missing (invalid).</summary>
    public Interval? Hard { get; init; }

    /// <summary>Decimal places a number is kept to; 0 for whole numbers.</summary>
    public int Decimals { get; init; }

    /// <summary>True for keys: a row without it is quarantined.</summary>
    public bool Required { get; init; }

    /// <summary>True for the few fields that the core measures need.</summary>
    public bool Core { get; init; }

    public Identifying Identifying { get; init; }

    /// <summary>Words that state why a value is missing, beside the blank cell.</summary>
    public ImmutableArray<MissingToken> Missing { get; init; } = [];

    /// <summary>True where a reading may be too low to measure: the store and conditions then hold <see cref="TooLow"/>.</summary>
    public bool MayBeUnrecordable => Missing.Any(token => token.Reason == MissingReason.Unrecordable);

    /// <summary>
    /// What stands for a reading too low to measure: below every threshold, and below what the field's hard range allows.
    /// </summary>
    public const int TooLow = 0;
}

/// <summary>A word in a cell that states why there is no value.</summary>
public readonly record struct MissingToken(string Word, MissingReason Reason);

/// <summary>Why a cell holds no value. Missing is never "no".</summary>
public enum MissingReason : byte
{
    Blank = 0,
    NotRecorded = 1,
    Unknown = 2,
    Withheld = 3,

    /// <summary>There was text, but no value of this field: see the finding.</summary>
    Invalid = 4,

    /// <summary>The question does not arise for this record.</summary>
    NotApplicable = 5,

    /// <summary>Too low to measure: an observation, and the worst one; see <see cref="Field.MayBeUnrecordable"/>.</summary>
    Unrecordable = 6,
}
