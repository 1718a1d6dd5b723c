using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Answers;

/// <summary>The drawings of an answer, by the hands that draw the report.</summary>
public static class AnswerCharts
{
    /// <summary>Draws what there is: the run chart of each cohort, the levels, the distribution.</summary>
    /// <param name="view">The answer.</param>
    /// <param name="slides">Whether each leaves as a picture too.</param>
    public static ImmutableArray<Chart> Draw(AnswerView view, bool slides)
    {
        ArgumentNullException.ThrowIfNull(view);
        ReportFont.Register();
        var foot = slides ? Foot(view.Report) : null;
        return
        [
            .. view.Cohorts.Where(cohort => !cohort.IsTooFew).SelectMany((cohort, at) => Of(view, cohort, at, foot)),
        ];
    }

    private static IEnumerable<Chart> Of(AnswerView view, CohortFigures cohort, int at, string? foot)
    {
        var which = view.Cohorts.Length == 1 ? "" : at == 0 ? "First cohort: " : "Second cohort: ";
        var figures = at == 0 ? view.Figures : cohort.Figures;
        if (RunChartDrawing.Of(figures, cohort.Counts.Book.First) is { } run)
        {
            var drawing = run with { Title = which + run.Title };
            yield return DrawChart.Draw(new($"run-{at}", $"run-{at}", drawing.Title, drawing.Description),
                (RunChartPlot.Width, RunChartPlot.Height(drawing)), foot, sheet => RunChartPlot.Draw(sheet, drawing),
                sheet => RunChartPlot.DrawSlide(sheet, drawing));
        }

        var period = Wording.Span(cohort.Cohort.From, cohort.Cohort.To);
        if (cohort.ShowsLevels && StrataPlot.Of(cohort.Figures, view.Titles) is { IsEmpty: false } blocks)
        {
            var drawing = new SectionDrawing($"{which}{cohort.Figures.Measure.Title} by stratum", cohort.Figures.Measure.Per,
                cohort.Figures.YearEstimate, blocks);
            yield return DrawChart.Draw(new($"levels-{at}", $"levels-{at}", drawing.Title, StrataPlot.Describe(drawing, period)),
                (StrataPlot.Width, StrataPlot.Height(blocks)), foot, sheet => StrataPlot.Draw(sheet, drawing, period));
        }

        if (cohort.Figures.Measure.Kind == MeasureKind.Quantity && DistributionDrawing.Of(cohort, which) is { } values)
            yield return DrawChart.Draw(new($"values-{at}", $"values-{at}", values.Title, values.Description),
                (DistributionPlot.Width, DistributionPlot.Height), foot, sheet => DistributionPlot.Draw(sheet, values));
    }

    private static string Foot(AnswerFrame report) =>
        "For audit and improvement only, never about a person. Found by looking: a hypothesis.\nAs known on "
            + $"{Wording.Date(report.AsOf)}. {(report.Invented ? "Invented data." : $"Audience: {Wording.Audience(Audience.Department)}.")}";
}
