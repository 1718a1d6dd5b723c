using System.Globalization;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>Ids, severities and explanations of the cell rules.</summary>
public static class CellRules
{
    public static string Id(CellRule rule) => rule switch
    {
        CellRule.Missing => "missing",
        CellRule.NotDate => "not_date",
        CellRule.NotTime => "not_time",
        CellRule.NotInteger => "not_integer",
        CellRule.NotNumber => "not_number",
        CellRule.NotAllowed => "not_allowed",
        CellRule.OutOfRange => "out_of_range",
        CellRule.Implausible => "implausible",
        CellRule.RaggedRow => "ragged_row",
        CellRule.KeyTooLong => "key_too_long",
        CellRule.BrokenQuotes => "broken_quotes",
        CellRule.MergedHeading => "merged_heading",
        CellRule.ErrorValue => "error_value",
        CellRule.SheetName => "identifying_sheet_name",
        CellRule.HiddenSheet => "identifying_hidden_sheet",
        CellRule.Comment => "identifying_comment",
        CellRule.Property => "identifying_document_property",
        CellRule.DefinedName => "identifying_defined_name",
        CellRule.WorkbookPart => "identifying_workbook_part",
        >= CellRule.Identifier => IdentifierRules.Id(rule),
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "no such rule"),
    };

    /// <summary>What is wrong and what to do, from the field's definition and never from the cell.</summary>
    public static string Explain(CellRule rule, Field? field, int count = 1) => rule switch
    {
        CellRule.Missing => "A value is required here; fill it in at the source.",
        CellRule.NotDate =>
            "Not a date written as the mapping declares; correct the cell, or the mapping's date pattern if the whole column is so.",
        CellRule.NotTime => "Not a time of day written as the mapping declares.",
        CellRule.NotInteger => $"Not a whole number{Unit(field)}; remove units and other text from the cell.",
        CellRule.NotNumber => $"Not a number{Unit(field)}; remove units and other text from the cell.",
        CellRule.NotAllowed =>
            "Not one of the allowed values, nor a code that the mapping translates; add the code to the mapping or correct the cell.",
        CellRule.OutOfRange => $"Outside the possible range{Range(field, field?.Hard)}{Unit(field)}; treated as missing.",
        CellRule.Implausible => $"Outside the usual range{Range(field, field?.Plausible)}{Unit(field)}; kept, please check it.",
        CellRule.RaggedRow => "The row has more or fewer cells than the heading; a stray separator or line break is likely.",
        CellRule.KeyTooLong => "The key is longer than 200 bytes.",
        CellRule.BrokenQuotes =>
            "A quotation mark stands where the format does not allow one; the cell was read as it stands, please check the row.",
        CellRule.MergedHeading => "A merged cell spans several columns or rows of the heading, "
            + "so that only its first column has this name; undo the merge and name each column.",
        CellRule.ErrorValue =>
            "The spreadsheet's formula here has no value (such as #N/A or #REF!); correct it at the source. It was made missing.",
        CellRule.SheetName => string.Create(CultureInfo.InvariantCulture,
            $"The name of sheet {count} looks like an identifier of a person; rename the sheet."),
        >= CellRule.HiddenSheet and <= CellRule.WorkbookPart =>
            $"{Capital(PlaceNames.Of(rule, count))} holds what may be an identifier of a "
                + "person; look at it, and remove it from the workbook before you export again.",
        >= CellRule.Identifier => IdentifierRules.Explain(rule, field is not null, count),
        _ => throw new ArgumentOutOfRangeException(nameof(rule), rule, "no such rule"),
    };

    /// <summary>The effect on a row: where the pipeline is strict, a bad cell refuses it.</summary>
    public static Severity SeverityOf(CellRule rule, Field? field, bool strict = false) => rule switch
    {
        CellRule.Implausible or CellRule.BrokenQuotes or CellRule.MergedHeading or (>= CellRule.SheetName and <= CellRule.WorkbookPart)
            or IdentifierRules.UniqueText
            or IdentifierRules.ColumnChecked
            or IdentifierRules.NameColumn or IdentifierRules.BirthColumn or IdentifierRules.RulesLifted or IdentifierRules.InitialsColumn
            or IdentifierRules.AddressColumn or IdentifierRules.PlateColumn or IdentifierRules.PhoneColumn
            or IdentifierRules.NationalColumn => Severity.Warn,
        >= CellRule.Identifier when field is null => Severity.Blank,
        CellRule.RaggedRow or CellRule.KeyTooLong => Severity.Refuse,
        _ when field is not null && Keys.IsKey(field) => Severity.Refuse,
        _ when strict => Severity.Refuse,
        CellRule.Missing => Severity.Warn,
        _ => Severity.Blank,
    };

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];

    // An annotation such as {attempt} or the unit 1 is no unit that anyone writes.
    private static string Unit(Field? field) => field?.Unit is { } unit && unit != "1" && !unit.StartsWith('{') ? $" in {unit}" : "";

    private static string Range(Field? field, Interval? range) => range switch
    {
        { Minimum: { } low, Maximum: { } high } => $" {End(field, low)} to {End(field, high)}",
        { Minimum: { } low } => $" of {End(field, low)} or more",
        { Maximum: { } high } => $" of {End(field, high)} or less",
        _ => "",
    };

    private static string End(Field? field, decimal end) => field?.Type switch
    {
        FieldType.Date => DateOnly.FromDayNumber((int)end).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        FieldType.Time => string.Create(CultureInfo.InvariantCulture, $"{(int)end / 60:00}:{(int)end % 60:00}"),
        _ => end.ToString("0.####", CultureInfo.InvariantCulture),
    };
}
