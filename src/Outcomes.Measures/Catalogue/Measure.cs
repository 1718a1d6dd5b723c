using System.Collections.Immutable;
using System.Text.RegularExpressions;

namespace Outcomes.Measures.Catalogue;

public enum MeasureKind
{
    /// <summary>Met out of eligible.</summary>
    Proportion,

    /// <summary>A value a record.</summary>
    Quantity,
}

/// <summary>What a measure is about: pages list measures by it, in this order.</summary>
public enum MeasureGroup
{
    Outcome,
    Harm,
    Preparation,
    Technique,
    Infection,
    Data,

    /// <summary>None stated: after the others.</summary>
    Other,
}

/// <summary>Which way is better.</summary>
public enum Direction
{
    Up,
    Down,
    None,
}

/// <summary>When <c>met</c> may be judged.</summary>
public enum Settled
{
    /// <summary>Every field that it names must be known.</summary>
    All,

    /// <summary>Its parts are alternative evidence for one fact: three-valued logic settles it.</summary>
    Any,
}

/// <summary>What an unknown answer counts as.</summary>
public enum MissingRule
{
    /// <summary>Left out of eligible, counted as missing.</summary>
    Dropped,

    /// <summary>Counted as eligible and not met; the known-only reading is counted too under the id with <c>.known</c>.</summary>
    NotDone,
}

/// <summary>Whom a measure or a section is about.</summary>
public enum Population
{
    /// <summary>What <c>eligible</c> says; shipped definitions mean adults.</summary>
    AsDefined,

    /// <summary>Children, who have a section of their own and are in no other figure.</summary>
    Children,
}

/// <summary>The answer for one record.</summary>
public enum Answer
{
    NotEligible,
    Met,
    NotMet,
    Missing,
}

/// <summary>A measure of the catalogue: the definition that is printed is the definition that runs.</summary>
/// <param name="Id">Its id; for a shipped measure, the file's name.</param>
/// <param name="Title">A short heading.</param>
public sealed partial record Measure(string Id, string Title)
{
    public MeasureKind Kind { get; init; }

    public MeasureGroup Group { get; init; } = MeasureGroup.Other;

    /// <summary>Its place within the group: smaller first, and those without one last, as they come.</summary>
    public int Order { get; init; } = int.MaxValue;

    /// <summary>A measure of children stands in sections about them alone.</summary>
    public Population Population { get; init; }

    /// <summary>SQL condition: which records the question is asked of.</summary>
    public required string Eligible { get; init; }

    /// <summary>SQL condition: which of those meet it. Empty for a quantity.</summary>
    public string Met { get; init; } = "";

    /// <summary>SQL expression of a quantity's value in <see cref="Unit"/>. Empty for a proportion.</summary>
    public string Value { get; init; } = "";

    /// <summary>UCUM unit of a quantity.</summary>
    public string? Unit { get; init; }

    /// <summary>Decimal places that a quantity is counted with, 0 to 3.</summary>
    public int Decimals { get; init; }

    /// <summary>What a counted value is divided by: values are counted as whole numbers of the last decimal place.</summary>
    public int Scale => Decimals switch { 0 => 1, 1 => 10, 2 => 100, _ => 1000 };

    public Settled Settled { get; init; }

    public MissingRule Missing { get; init; }

    public Direction Direction { get; init; }

    /// <summary>What a rate is printed per: 100 for percentages, 1,000 for rare events. Tables always hold fractions.</summary>
    public int Per { get; init; } = 100;

    public string Why { get; init; } = "";

    public string Source { get; init; } = "";

    /// <summary>How the source defines it, in short and in our words; empty where no published definition was found.</summary>
    public string AsPublished { get; init; } = "";

    /// <summary>What differs from <see cref="AsPublished"/>, and why; <c>none</c> where nothing does.</summary>
    public string Difference { get; init; } = "";

    /// <summary>Published ranges, for context and never as a target; empty where none was found.</summary>
    public string Published { get; init; } = "";

    public ImmutableArray<MeasureExample> Examples { get; init; } = [];

    /// <summary>Where it is defined, for messages.</summary>
    public string File { get; init; } = "";

    public int Line { get; init; }

    /// <summary>The line of <see cref="Eligible"/>.</summary>
    public int EligibleLine { get; init; }

    /// <summary>The line of <see cref="Met"/> or <see cref="Value"/>.</summary>
    public int MetLine { get; init; }

    /// <summary>True where it starts from the emergency population: its <c>eligible</c> names it.</summary>
    public bool AsksEmergencies => Emergency().IsMatch(Eligible);

    /// <summary>The measure asked only of records that also meet a condition, whatever words join its parts.</summary>
    public Measure Among(string condition) => this with { Eligible = $"({Eligible}) and ({condition})" };

    /// <summary>The same question, asked of children in place of adults; null where it does not name whom it asks.</summary>
    public Measure? AskedOfChildren() => Population == Population.Children ? this
        : AsksEmergencies ? this with { Eligible = Emergency().Replace(Eligible, "child_emergency"), Population = Population.Children }
        : null;

    // The name, not the value of urgency, which stands in quotes.
    [GeneratedRegex("(?<!')\\bemergency\\b(?!')")]
    private static partial Regex Emergency();
}

/// <summary>A made-up record with the answer that the measure must give.</summary>
/// <param name="Given">Field or column names and their values as written; names not given are blank.</param>
/// <param name="Expect">The answer.</param>
/// <param name="Line">Where it stands, for messages.</param>
public sealed record MeasureExample(ImmutableDictionary<string, string> Given, Answer Expect, int Line)
{
    /// <summary>The value that a quantity must give; null for a proportion.</summary>
    public decimal? Value { get; init; }
}
