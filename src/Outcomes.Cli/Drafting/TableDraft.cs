using System.Globalization;
using Outcomes.Ingestion.Formats;

namespace Outcomes.Cli.Drafting;

/// <summary>
/// Writes where the table lies in the file and how its text is written: <c>table:</c> of a mapping, each line with its reason.
/// </summary>
public static class TableDraft
{
    /// <param name="text">The mapping.</param>
    /// <param name="sample">The export.</param>
    /// <param name="rowsAreAttempts">True when a row is an attempt.</param>
    /// <param name="number">Its decimal sign.</param>
    /// <param name="otherSheets">Names of sheets that could be meant as well.</param>
    public static void Write(
        DraftText text, ExportSample sample, bool rowsAreAttempts, DecimalForm number, IReadOnlyList<string> otherSheets)
    {
        if (sample is { Sheet: null, HeaderRow: 0, Format: SourceFormat.Workbook or SourceFormat.Parquet or SourceFormat.Json }
            && !rowsAreAttempts && number is { Comma: false, Doubt: null }) return;
        text.Line("table:");
        if (rowsAreAttempts) text.Line("  rows: attempts");
        if (sample.Sheet is { } sheet) text.Line($"  sheet: {DraftText.Quoted(sheet)}");
        if (otherSheets.Count > 0)
            text.Ask("  ",
                $"is {DraftText.Quoted(sample.Sheet!)} the right sheet? {string.Join(", ", otherSheets.Select(DraftText.Quoted))} could be "
                    + $"too. If it is another, draft again with --sheet and its name; if this is right, delete this line.");
        if (sample.HeaderRow > 0)
            text.Line(string.Create(CultureInfo.InvariantCulture,
                $"  header_row: {sample.HeaderRow}   # what stands above the headings is not read"));
        switch (sample.Separator)
        {
            case ',' or ';':
                text.Line($"  separator: {DraftText.Quoted(sample.Separator.Value.ToString())}");
                break;
            case '\t':
                text.Line("  separator: tab");
                break;
        }

        if (number.Comma) text.Line($"  decimal: \",\"   # {number.Why}");
        if (number.Doubt is { } doubt) text.Ask("  ", doubt, "decimal: \",\"");
        if (sample.Format == SourceFormat.Windows1252)
            text.Ask("  ", "the file is not in UTF-8, and its bytes do not say what it is in. Windows-1252 is the usual one: are the "
                + "letters with accents in the headings and words below right? Best is to export it as CSV UTF-8 and to draft again.",
                "encoding: windows-1252");
    }
}
