using System.Globalization;
using Outcomes.Ingestion.Store;

namespace Outcomes.Ingestion.Reading;

/// <summary>How messages call a place in a workbook.</summary>
internal static class PlaceNames
{
    /// <summary>Properties by the names that the format gives them (ECMA-376, part 2, and part 1, 22.2); custom ones by number.</summary>
    public static readonly string[] Properties =
    [
        "creator", "lastModifiedBy", "title", "subject", "description", "keywords", "category", "contentStatus", "Manager", "Company",
        "HyperlinkBase",
    ];

    public const int Columns = 20_000;

    /// <summary>From here on the number of a custom property.</summary>
    public const int Custom = 100;

    public static string Of(CellRule rule, int place)
    {
        var number = place.ToString(CultureInfo.InvariantCulture);
        var (sheet, column) = (place / Columns, place % Columns);
        return rule switch
        {
            CellRule.HiddenSheet => $"sheet {number}, which is not the one that is read,",
            CellRule.Comment when column > 0 => string.Create(CultureInfo.InvariantCulture,
                $"the comment on a cell of column {column} of sheet {sheet}"),
            CellRule.Comment => "the list of those who wrote comments",
            CellRule.Property when place > Custom => string.Create(CultureInfo.InvariantCulture,
                $"the workbook's custom property {place - Custom}"),
            CellRule.Property => $"the workbook's property `{Properties[place - 1]}`",
            CellRule.DefinedName => $"the workbook's defined name {number}",
            _ => $"part {number} of the workbook (a drawing, a link, a pivot table's memory or another part beside its sheets)",
        };
    }
}
