using System.Globalization;
using System.Text.RegularExpressions;
using Outcomes.Ingestion.Formats;

namespace Outcomes.Cli.Drafting;

/// <summary>The decimal sign of an export.</summary>
/// <param name="Comma">True when its numbers are read with a comma.</param>
/// <param name="Why">What decides that, for the draft; null for the point, which needs no word.</param>
/// <param name="Doubt">What cannot be told, as a question; null when nothing is in doubt.</param>
public sealed partial record DecimalForm(bool Comma, string? Why, string? Doubt)
{
    private const double Enough = 0.8;

    /// <summary>Judges columns of numbers: those with decimals after a comma against those with decimals after a point.</summary>
    public static DecimalForm Of(ExportSample sample)
    {
        var columns = Enumerable.Range(0, sample.Headings.Length)
            .Select(column => ColumnProfile.Of(sample, sample.Headings[column], column))
            .Where(column => column.Share(cell => Number().IsMatch(cell)) >= Enough).ToList();
        // A time of day may be written 08.30, and codes of one digit are often separated by a comma.
        var points =
            columns.Where(column => column.Share(cell => WithPoint().IsMatch(cell)) > 0 && DateForm.OfTimes(column) is null).ToList();
        var commas = columns.Where(column => column.Share(cell => WithComma().IsMatch(cell)) > 0).ToList();
        if (commas.Count == 0) return new DecimalForm(false, null, null);
        var first = DraftText.Quoted(commas[0].Heading);
        if (points.Count > 0)
            return new DecimalForm(false, null, $"column {first} has numbers with a comma and column {DraftText.Quoted(points[0].Heading)} "
                + $"numbers with a point. Write all with one decimal sign in the export; if it is the comma, say so here.");
        if (commas.TrueForAll(
            column => column.Share(cell => Number().IsMatch(cell) && WithComma().IsMatch(cell) && !Grouped().IsMatch(cell)) == 0))
            return new DecimalForm(false, null, $"does the comma in column {first} separate decimals or thousands? Every number can be "
                + $"read both ways. If decimals, say so here; if thousands, export the numbers without it.");
        return new DecimalForm(true, string.Create(CultureInfo.InvariantCulture,
            $"{commas.Count} column{(commas.Count == 1 ? " writes" : "s write")} numbers with a comma, none with a point"), null);
    }

    [GeneratedRegex(@"^-?\d+([.,]\d+)?$")]
    private static partial Regex Number();

    [GeneratedRegex(@"^-?\d+\.\d+$")]
    private static partial Regex WithPoint();

    [GeneratedRegex(@"^-?\d+,\d+$")]
    private static partial Regex WithComma();

    [GeneratedRegex(@"^-?[1-9]\d{0,2},\d{3}$")]
    private static partial Regex Grouped();
}
