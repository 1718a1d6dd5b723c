using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>What is looked for in each column of one file.</summary>
public sealed record ScreenPlan
{
    /// <summary>The kinds looked for, a column each, and last those of cells beyond the heading.</summary>
    public required ImmutableArray<Identifier> Asked { get; init; }

    /// <summary>Columns whose values should repeat: all text that is no key.</summary>
    public required ImmutableArray<bool> ShouldRepeat { get; init; }

    /// <summary>Columns that the mapping does not read.</summary>
    public required ImmutableArray<int> Unread { get; init; }

    /// <summary>Columns that the mapping declares checked.</summary>
    public required ImmutableArray<int> Checked { get; init; }

    /// <summary>Columns that the mapping reads, with their field, or null.</summary>
    public required ImmutableArray<Field?> Fields { get; init; }

    /// <summary>Plans the screen of a file.</summary>
    /// <param name="mapping">The mapping, for its checked columns.</param>
    /// <param name="headings">The file's headings.</param>
    /// <param name="columns">The columns that are read.</param>
    /// <exception cref="Failure">A checked column is not there (exit 3, the mapping's line).</exception>
    public static ScreenPlan Make(SourceMapping mapping, ImmutableArray<string> headings, IEnumerable<PlannedColumn> columns)
    {
        var fields = new Field?[headings.Length];
        foreach (var column in columns) fields[column.FileColumn] = column.Reader.Field;
        var free = mapping.Checked.SelectMany(entry => Places(mapping, headings, entry)).ToHashSet();
        return new ScreenPlan
        {
            Asked = [.. fields.Select((field, i) => free.Contains(i) ? Identifier.None : AskedOf(field)), IdentifierSets.All],
            ShouldRepeat = [.. fields.Select((field, i) => !free.Contains(i) && field is null or { Type: FieldType.Text, Name: not Keys.RecordId })],
            Unread = [.. Enumerable.Range(0, headings.Length).Where(i => fields[i] is null && !free.Contains(i))],
            Checked = [.. free.Order()],
            Fields = [.. fields],
        };
    }

    /// <summary>The kinds looked for in a column of a field; null is a column that is not read.</summary>
    public static Identifier AskedOf(Field? field) => field?.Type switch
    {
        FieldType.Text when Keys.IsKey(field) => IdentifierSets.OfKeys,
        FieldType.Integer or FieldType.Number or FieldType.Date or FieldType.Time => IdentifierSets.OfNumbers,
        _ => IdentifierSets.All,
    };

    private static int[] Places(SourceMapping mapping, ImmutableArray<string> headings, CheckedColumn entry)
    {
        var places = Enumerable.Range(0, headings.Length).Where(i => headings[i] == entry.Column).ToArray();
        return places.Length > 0 ? places : throw Failure.Definition(mapping.File, entry.Line, string.Create(CultureInfo.InvariantCulture,
            $"columns_checked: the file has no such column; write the heading as it stands in the file, or remove the entry"));
    }
}
