using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Ingestion.Mapping;

/// <summary>How the columns and codes of one kind of export become dictionary fields.</summary>
/// <param name="File">The mapping file's name, for messages.</param>
/// <param name="Text">The mapping file's text: part of the store's key, so an edited mapping is read anew.</param>
/// <param name="Table">How the file is laid out.</param>
/// <param name="Columns">One entry a mapped column.</param>
public sealed record SourceMapping(string File, string Text, TableLayout Table, ImmutableArray<ColumnMapping> Columns)
{
    /// <summary>Fields that have the same value in every row: the value as the dictionary writes it.</summary>
    public ImmutableArray<ConstantMapping> Constants { get; init; } = [];

    /// <summary>Attempts that stand in columns of the record's own row; null when they do not.</summary>
    public WideAttempts? Attempts { get; init; }

    /// <summary>The column that says a record was deleted; null when the export has none.</summary>
    public StatusMapping? Status { get; init; }

    /// <summary>Columns that a person has checked, for which some or all searches for identifiers are lifted.</summary>
    public ImmutableArray<CheckedColumn> Checked { get; init; } = [];

    /// <summary>The table that the file's rows belong to.</summary>
    public string RowsTable =>
        Table.RowsAreSamples ? FieldDictionary.Trace : Table.RowsAreAttempts ? FieldDictionary.Attempt : FieldDictionary.Procedure;
}

/// <summary>Where the table lies in the file, and how its text is written.</summary>
/// <param name="Separator">The separator; null lets the header decide among comma, semicolon and tab.</param>
/// <param name="RowsAreAttempts">True when a row is an attempt, false when it is a record.</param>
public sealed record TableLayout(char? Separator, bool RowsAreAttempts)
{
    /// <summary>True when the rows are samples of traces: one a sample, or one a moment with a column a signal.</summary>
    public bool RowsAreSamples { get; init; }

    /// <summary>True when the text is Windows-1252; otherwise it is UTF-8, or UTF-16 with a byte order mark.</summary>
    public bool Windows1252 { get; init; }

    /// <summary>Physical line (sheet row) of the headings, 1-based; 0 is the first that is not blank.</summary>
    public int HeaderRow { get; init; }

    /// <summary>The workbook's sheet; null is its first.</summary>
    public string? Sheet { get; init; }

    /// <summary>True when decimals are written with a comma.</summary>
    public bool DecimalComma { get; init; }

    /// <summary>Line of the mapping file, for messages.</summary>
    public int Line { get; init; }
}

/// <summary>One column of the export.</summary>
/// <param name="Field">The dictionary field it fills.</param>
/// <param name="Column">Its heading in the file.</param>
/// <param name="Line">Line of the mapping file, for messages.</param>
public sealed record ColumnMapping(string Field, string Column, int Line)
{
    /// <summary>Columns to look in, in this order, where the ones before are blank.</summary>
    public ImmutableArray<string> Others { get; init; } = [];

    /// <summary>What the field is derived from; null where the column holds the field itself.</summary>
    public Derivation? Derive { get; init; }

    /// <summary>The export's words and the dictionary values they stand for; a word equal to a dictionary value needs none.</summary>
    public ImmutableDictionary<string, string> Codes { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>The file's unit; null when it is the dictionary's.</summary>
    public string? Unit { get; init; }

    /// <summary>How dates or times are written, such as <c>dd/MM/yyyy</c>; never guessed.</summary>
    public string? Pattern { get; init; }

    /// <summary>Further words for a missing value.</summary>
    public ImmutableDictionary<string, MissingReason> Missing { get; init; } = ImmutableDictionary<string, MissingReason>.Empty;

    /// <summary>What separates the values of a set in one cell.</summary>
    public char Split { get; init; } = ';';
}

/// <summary>What a coarser field is worked out from while reading, so that the exact value is never stored.</summary>
public enum DeriveFrom
{
    Time,
    Age,
    Date,
}

/// <summary>How a coarser field comes from an exact value: the band of a time or an age, the kind of day of a date.</summary>
/// <param name="From">What the column holds.</param>
/// <param name="Holidays">Dates that count as weekend: a program cannot know a place's public holidays.</param>
public sealed record Derivation(DeriveFrom From, ImmutableArray<DateOnly> Holidays);

/// <summary>A field with one value for the whole file.</summary>
public sealed record ConstantMapping(string Field, string Value, int Line);

/// <summary>Attempts in columns: <c>attempt{n}_*</c>, n from 1, * the attempt field's name.</summary>
/// <param name="Pattern">The headings' pattern, with one <c>{n}</c> and one <c>*</c>.</param>
/// <param name="Columns">How single attempt fields are written, by field; <see cref="ColumnMapping.Column"/> is the word in
/// place of *.</param>
/// <param name="Line">Line of the mapping file, for messages.</param>
public sealed record WideAttempts(string Pattern, ImmutableArray<ColumnMapping> Columns, int Line);

/// <summary>A column of which a person has stated that it identifies nobody, whatever some rules or all say.</summary>
/// <param name="Column">Its heading in the file.</param>
/// <param name="Reason">Why, by whose role, and when: for those who read the mapping; it is printed nowhere.</param>
/// <param name="Line">Line of the mapping file, for messages.</param>
public sealed record CheckedColumn(string Column, string Reason, int Line)
{
    /// <summary>The rules that are lifted; empty lifts every search.</summary>
    public ImmutableArray<string> Rules { get; init; } = [];
}

/// <summary>A status column and the words in it that mean deleted.</summary>
public sealed record StatusMapping(string Column, ImmutableArray<string> Deleted, int Line);
