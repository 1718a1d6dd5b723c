using System.Collections.Immutable;
using Outcomes.Ingestion.Mapping;
using Outcomes.Records;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>What is looked for in each column of one file.</summary>
public sealed record ScreenPlan
{
    /// <summary>The kinds looked for in cells, a column each, and last those of cells beyond the heading.</summary>
    public required ImmutableArray<Identifier> Asked { get; init; }

    /// <summary>What is asked of each column as a whole.</summary>
    public required ImmutableArray<WholeColumn> Whole { get; init; }

    /// <summary>Columns that the mapping does not read and that are searched.</summary>
    public required ImmutableArray<int> Unread { get; init; }

    /// <summary>What the mapping lifts for each column.</summary>
    public required ImmutableArray<LiftedRules> Lifted { get; init; }

    /// <summary>Columns that the mapping reads, with their field, or null.</summary>
    public required ImmutableArray<Field?> Fields { get; init; }

    /// <summary>Columns that the mapping declares checked, for some rules or for all.</summary>
    public ImmutableArray<int> Checked => [.. Enumerable.Range(0, Lifted.Length).Where(i => Lifted[i] != LiftedRules.None)];

    /// <summary>The rules lifted for each of <see cref="Checked"/>; none stands for all.</summary>
    public required ImmutableArray<ImmutableArray<string>> CheckedRules { get; init; }

    /// <summary>True for a column that the mapping reads.</summary>
    public bool IsRead(int column) => Fields[column] is not null;

    /// <summary>
    /// Columns whose heading announces a person and is not lifted. What is read as anything but text, and a key, tells by its values.
    /// </summary>
    public ImmutableArray<(int Column, HeadingKind Kind)> Watched(ImmutableArray<string> headings) =>
    [
        .. headings.Select((heading, i) => (Column: i, Kind: Lifted[i].Heading ? HeadingKind.Other : HeaderScreen.KindOf(heading)))
            .Where(watched => watched.Kind >= HeadingKind.Direct || (watched.Kind == HeadingKind.Person
                && Fields[watched.Column] is null or { Type: FieldType.Text, Allowed.IsEmpty: true, Name: not Keys.RecordId })),
    ];

    /// <summary>Plans the screen of a file that is read.</summary>
    /// <param name="mapping">The mapping, for its checked columns.</param>
    /// <param name="headings">The file's headings.</param>
    /// <param name="columns">The columns that are read, with the fields they become.</param>
    /// <exception cref="Failure">A checked column is not there (exit 3, the mapping's line).</exception>
    public static ScreenPlan Make(
        SourceMapping mapping, ImmutableArray<string> headings, IEnumerable<(int FileColumn, Field Field)> columns)
    {
        var fields = new Field?[headings.Length];
        foreach (var (column, field) in columns) fields[column] = field;
        foreach (var entry in mapping.Checked)
            if (!headings.Contains(entry.Column))
                throw Failure.Definition(mapping.File, entry.Line,
                    "columns_checked: the file has no such column; write the heading as it stands in the file, or remove the entry");
        return Of(fields, headings, mapping.Checked);
    }

    /// <summary>Plans the screen of columns with their fields, or null where none is known.</summary>
    public static ScreenPlan Of(IReadOnlyList<Field?> fields, ImmutableArray<string> headings, ImmutableArray<CheckedColumn> declared)
    {
        ImmutableArray<LiftedRules> lifted =
            [.. headings.Select(heading => LiftedRules.Of(declared.Where(entry => entry.Column == heading)))];
        return new ScreenPlan
        {
            Asked = [.. fields.Select((field, i) => AskedOf(field) & ~lifted[i].Cells), IdentifierSets.OfUnread],
            Whole = [.. fields.Select((field, i) => WholeOf(field) & ~lifted[i].Columns)],
            Unread = [.. Enumerable.Range(0, headings.Length).Where(i => fields[i] is null && !lifted[i].Everything)],
            Lifted = lifted,
            CheckedRules = [.. headings.Where((_, i) => lifted[i] != LiftedRules.None)
                .Select((heading, _) => RulesOf([.. declared.Where(entry => entry.Column == heading)]))],
            Fields = [.. fields],
        };
    }

    /// <summary>What is asked of a column of keys as a whole.</summary>
    internal const WholeColumn WholeOfKeys = WholeColumn.Names | WholeColumn.Births | WholeColumn.National | WholeColumn.Initials
        | WholeColumn.Addresses | WholeColumn.Plates | WholeColumn.Phones
        | WholeColumn.Digits;

    private static ImmutableArray<string> RulesOf(ImmutableArray<CheckedColumn> statements) =>
        statements.Any(statement => statement.Rules.IsEmpty)
            ? []
            : [.. statements.SelectMany(statement => statement.Rules).Distinct().Order(StringComparer.Ordinal)];

    /// <summary>The kinds looked for in a column of a field; null is a column that is not read.</summary>
    public static Identifier AskedOf(Field? field) => field?.Type switch
    {
        null => IdentifierSets.OfUnread,
        FieldType.Text when Keys.IsKey(field) => IdentifierSets.OfKeys,
        FieldType.Integer or FieldType.Number or FieldType.Date or FieldType.Time => IdentifierSets.OfNumbers,
        _ => IdentifierSets.All,
    };

    // A key is unique by its nature, but no pseudonym is a name, a date of birth or a number with a country's check digits.
    private static WholeColumn WholeOf(Field? field) => field switch
    {
        null or { Type: FieldType.Text, Name: not Keys.RecordId } => WholeColumn.Unique | (WholeOfKeys & ~WholeColumn.Digits),
        { Type: FieldType.Text } => WholeOfKeys,
        _ => WholeColumn.None,
    };
}
