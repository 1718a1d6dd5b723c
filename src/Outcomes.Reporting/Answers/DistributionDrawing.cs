using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;
using ScottPlot;

namespace Outcomes.Reporting.Answers;

/// <summary>One bar of a distribution.</summary>
internal readonly record struct ValueBar(double From, double To, long N);

/// <summary>A quantity's distribution as numbers and words, before any pixel.</summary>
internal sealed record DistributionDrawing(
    string Title, string Subtitle, string Description, ImmutableArray<ValueBar> Bars, QuantitySummary Summary,
    double Tick)
{
    private const int Most = 40, MostTicks = 8;

    // What a bar may be wide: a reader counts in these.
    private static readonly double[] Steps = [1, 2, 5];

    /// <summary>The distribution of a cohort; null where it has too few values for any summary.</summary>
    public static DistributionDrawing? Of(CohortFigures cohort, string which)
    {
        if (cohort.Figures.YearQuantity is not { } summary || summary.N < StratumFigures.LeastRecords)
            return null;
        var measure = cohort.Figures.Measure;
        var (range, least) = (summary.Greatest - summary.Least, 1.0 / measure.Scale);
        var width = Width(range, least, Most);
        ImmutableArray<ValueBar> bars =
        [
            .. cohort.Distribution.GroupBy(value => Math.Floor((value.Value / width) + 1e-9))
                .Select(group => new ValueBar(group.Key * width, (group.Key + 1) * width, group.Sum(value => value.N)))
                .OrderBy(bar => bar.From),
        ];
        var unit = measure.Unit is { } named ? $" in {named}" : "";
        var step = Wording.Quantity(width, measure.Decimals);
        return new($"{which}{measure.Title}: distribution",
            $"Records by value{unit}, bars {step} wide · thick line: median, box: "
                + $"quartiles · {Wording.Span(cohort.Cohort.From, cohort.Cohort.To)}",
            $"Distribution of {measure.Title}{unit}, {Wording.Some(summary.N, "record")}: "
                + $"median {Wording.Quantity(summary.Median, summary.Decimals)}, "
                + $"quartiles {Wording.QuantityRange(summary.LowerQuartile, summary.UpperQuartile, summary.Decimals)}.", bars,
            summary, Width(range, width, MostTicks));
    }

    private static double Width(double range, double least, int most)
    {
        for (var power = least; ; power *= 10)
            foreach (var step in Steps)
                if (range / (step * power) <= most)
                    return step * power;
    }
}

/// <summary>Draws a distribution: a bar a step, with the quartiles and the median under them.</summary>
internal static class DistributionPlot
{
    public const int Width = 840, Height = 300;

    private const double Left = 48, Right = Width - 20, Top = 62, Bottom = Height - 62;

    public static void Draw(Sheet sheet, DistributionDrawing drawing)
    {
        var (bars, summary) = (drawing.Bars, drawing.Summary);
        var (low, high, most) = (bars[0].From, bars[^1].To, bars.Max(bar => bar.N));
        double X(double value) => Left + ((Right - Left) * (value - low) / (high - low));
        double Y(double n) => Bottom - ((Bottom - Top) * n / most);

        sheet.Text(drawing.Title, 0, 15, 18, Ink.Black, bold: true);
        sheet.Text(drawing.Subtitle, 0, 39, 13, Ink.Quiet);
        sheet.Line(Left, Bottom, Right, Bottom, Ink.Quiet);
        sheet.Line(Left, Y(most), Right, Y(most), Ink.Grid);
        sheet.Text(Wording.Number(most), Left - 8, Y(most), 12, Ink.Quiet, Alignment.MiddleRight);
        sheet.Text("0", Left - 8, Bottom, 12, Ink.Quiet, Alignment.MiddleRight);
        foreach (var bar in bars)
            sheet.Box(X(bar.From) + 0.5, Y(bar.N), Math.Max(1, X(bar.To) - X(bar.From) - 1), Bottom - Y(bar.N), Ink.Tint, Ink.Tint, 0);
        // A tick stands under the middle of the bar that begins with it.
        var half = (bars[0].To - bars[0].From) / 2;
        for (var value = Math.Ceiling(low / drawing.Tick) * drawing.Tick; value < high; value += drawing.Tick)
            sheet.Text(Wording.Quantity(value, summary.Decimals), X(value + half), Bottom + 14, 12, Ink.Quiet, Alignment.MiddleCenter);

        var (left, right, median) = (X(summary.LowerQuartile + half), X(summary.UpperQuartile + half), X(summary.Median + half));
        sheet.Box(left, Bottom + 28, Math.Max(2, right - left), 14, Ink.Wash, Ink.Accent);
        sheet.Line(median, Bottom + 24, median, Bottom + 46, Ink.Black, 3);
    }
}
