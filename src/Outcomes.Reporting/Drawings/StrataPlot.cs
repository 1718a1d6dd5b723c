using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using ScottPlot;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// Draws a measure by stratum: a row a level with its interval, in the order in which levels are declared and never by value, and one line
/// for all records. A level too small for an interval keeps its row and its count.
/// </summary>
internal static class StrataPlot
{
    public const int Width = 840;

    // As tall as a slide lets a drawing be that fills its width.
    private const int SlideHeight = (int)(Width * Slide.Height / Slide.Width);

    // Characters that fit beside the scale, and over it.
    private const int ShortTitle = 42, LongTitle = 76;

    private const double Left = 318, Right = Width - 148, Head = 66, Row = 20, Gap = 10;

    /// <summary>The strata of a measure that may be drawn.</summary>
    public static ImmutableArray<StrataBlock> Of(MeasureFigures report, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(report);
        return report.Strata.IsDefaultOrEmpty
            ? []
            : [.. report.Strata.Where(stratum => StratumFigures.Allowed(report.Measure, stratum.Field) && !stratum.Levels.IsEmpty)
                .Select(stratum => StrataBlock.Of(stratum, titles))];
    }

    public static int Height(ImmutableArray<StrataBlock> strata) =>
        (int)(Head + strata.Sum(stratum => Gap + (Row * (stratum.Rows.Length + 1))) + 44);

    /// <summary>The strata in parts, in their order, each short enough that its words can be read on a slide.</summary>
    public static IEnumerable<ImmutableArray<StrataBlock>> Parts(ImmutableArray<StrataBlock> strata)
    {
        var part = ImmutableArray.CreateBuilder<StrataBlock>();
        foreach (var stratum in strata)
        {
            if (part.Count > 0 && Height([.. part, stratum]) > SlideHeight)
            {
                yield return part.ToImmutable();
                part.Clear();
            }

            part.Add(stratum);
        }

        if (part.Count > 0)
            yield return part.ToImmutable();
    }

    public static void Draw(Sheet sheet, SectionDrawing drawing, string period)
    {
        var (title, per, whole, strata) = drawing;
        var top = Top(strata);
        var bottom = Height(strata) - 38;
        double X(double value) => Left + ((Right - Left) * Math.Min(value, top) / top);

        sheet.Text(Fit(title, 74), 0, 15, 18, Ink.Black, bold: true);
        sheet.Text($"{period} · bars: 95 % intervals (Wilson) · levels differ in their patients: a difference is a question, not a finding",
            0, 39, 13, Ink.Quiet);
        for (var i = 0; i <= 5; i++)
        {
            sheet.Line(X(top * i / 5), Head, X(top * i / 5), bottom, i == 0 ? Ink.Quiet : Ink.Grid);
            sheet.Text(Tick(top * i / 5 * per, per), X(top * i / 5), bottom + 12, 12, Ink.Quiet, Alignment.MiddleCenter);
        }

        if (whole is { } all)
        {
            sheet.Line(X(all.Value), Head - 2, X(all.Value), bottom, Ink.Black, 1.2f, LinePattern.Dashed);
            sheet.Text($"all: {Wording.Short(all.Value, per)}", Math.Min(X(all.Value) + 4, Right - 10), Head - 8, 11.5f, Ink.Black);
        }

        if (strata.Any(stratum => stratum.Rows.Any(level => VaryingMonths.IsWider(level.Estimate))))
            sheet.Text(Wording.StarExplained, 0, Height(strata) - 10, 11.5f, Ink.Quiet);

        var y = Head;
        foreach (var stratum in strata)
        {
            y += Gap + (Row / 2);
            // A long title reaches over the scale: no line runs through it.
            if (Fit(stratum.Title, LongTitle) is { Length: > ShortTitle } wide)
                sheet.Box(Left - 4, y - 8, (wide.Length * 7.5) - Left, 16, Ink.Paper, Ink.Paper);
            sheet.Text(Fit(stratum.Title, LongTitle), 0, y, 13, Ink.Black, bold: true);
            y += Row / 2;
            foreach (var level in stratum.Rows)
            {
                y += Row / 2;
                Level(sheet, level, y, X, per);
                y += Row / 2;
            }
        }
    }

    /// <summary>What a listener hears in place of the picture; every figure stands in the tables below it.</summary>
    public static string Describe(SectionDrawing drawing, string period)
    {
        ArgumentNullException.ThrowIfNull(drawing);
        return $"{drawing.Title}, {period}. " + string.Join("; ", drawing.Blocks.Select(block => $"{block.Title}: "
            + string.Join(", ", block.Rows.Select(row =>
                $"{row.Label} {(row.Count.Eligible == 0 ? "none eligible" : Wording.Fraction(row.Count))}")))) + ".";
    }

    private static void Level(Sheet sheet, StrataRow level, double y, Func<double, double> x, int per)
    {
        sheet.Text(Fit(level.Label, 34), 14, y, 12.5f, Ink.Black);
        sheet.Text(level.Count.Eligible == 0 ? "none eligible" : Wording.Fraction(level.Count), Left - 14, y, 12.5f,
            Ink.Black, Alignment.MiddleRight);
        if (level.Estimate is not { } estimate)
        {
            if (level.Count.Eligible > 0)
                sheet.Text("too few for an interval", Left + 8, y, 11.5f, Ink.Quiet);
            return;
        }

        sheet.Line(x(estimate.Lower), y, x(estimate.Upper), y, Ink.Tint, 1.8f);
        sheet.Dot(x(estimate.Value), y, 7.5f, Ink.Accent, hollow: level.Count.Eligible < DrawnPoint.Few);
        sheet.Text($"{Wording.Bare(estimate.Value, per)} ({Wording.Bare(estimate.Lower, per)} to {Wording.Bare(estimate.Upper, per)})"
            + Wording.Star(estimate), Width, y, 12, Ink.Black, Alignment.MiddleRight);
    }

    private static double Top(ImmutableArray<StrataBlock> strata)
    {
        var highest = strata.SelectMany(stratum => stratum.Rows).Max(level => level.Estimate?.Upper) ?? 1;
        return ((double[])[0.01, 0.02, 0.05, 0.1, 0.2, 0.5]).FirstOrDefault(top => highest <= top, 1);
    }

    private static string Tick(double value, int per) =>
        Math.Round(value, 6).ToString("0.##", System.Globalization.CultureInfo.InvariantCulture) + (per == 100 ? Wording.Space + "%" : "");

    private static string Fit(string text, int most) => text.Length <= most ? text : string.Concat(text.AsSpan(0, most - 1), "…");
}
