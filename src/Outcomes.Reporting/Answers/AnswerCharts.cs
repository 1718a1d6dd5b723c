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
        return [.. Jobs(view, slides ? Foot(view.Report) : null, "answer").AsParallel().AsOrdered().Select(job => job())];
    }

    /// <summary>The same for a page, under names that begin as given.</summary>
    internal static ImmutableArray<Chart> Draw(AnswerView view, string name)
    {
        ReportFont.Register();
        return [.. Jobs(view, foot: null, name).AsParallel().AsOrdered().Select(job => job())];
    }

    private static IEnumerable<Func<Chart>> Jobs(AnswerView view, string? foot, string name) =>
        view.Cohorts.Index().Where(each => !each.Item.IsTooFew).SelectMany(each => Of(view, each.Item, foot, $"{name}-{each.Index + 1}"));

    private static IEnumerable<Func<Chart>> Of(AnswerView view, CohortFigures cohort, string? foot, string name)
    {
        var isFirst = cohort == view.Answer.First;
        var which = view.Cohorts.Length == 1 ? "" : isFirst ? "First cohort: " : "Second cohort: ";
        var (figures, period) = (isFirst ? view.Figures : cohort.Figures, Wording.Span(cohort.Cohort.From, cohort.Cohort.To));
        if (RunChartDrawing.Of(figures, cohort.Counts.Book.First) is { } found)
        {
            var run = found with { Title = which + found.Title };
            yield return () => DrawChart.Draw(new(name + "-run", name + "-run", run.Title, run.Description),
                (RunChartPlot.Width, RunChartPlot.Height(run)), foot, sheet => RunChartPlot.Draw(sheet, run),
                sheet => RunChartPlot.DrawSlide(sheet, run));
        }

        if (cohort.ShowsLevels && StrataPlot.Of(cohort.Figures, view.Titles) is { IsEmpty: false } blocks)
        {
            var drawing = new SectionDrawing($"{which}{cohort.Figures.Measure.Title} by stratum", cohort.Figures.Measure.Per,
                cohort.Figures.YearEstimate, blocks);
            yield return () => DrawChart.Draw(
                new(name + "-levels", name + "-levels", drawing.Title, StrataPlot.Describe(drawing, period)),
                (StrataPlot.Width, StrataPlot.Height(blocks)), foot, sheet => StrataPlot.Draw(sheet, drawing, period));
        }

        if (cohort.Figures.Measure.Kind == MeasureKind.Quantity && DistributionDrawing.Of(cohort, which) is { } values)
            yield return () => DrawChart.Draw(new(name + "-values", name + "-values", values.Title, values.Description),
                (DistributionPlot.Width, DistributionPlot.Height), foot, sheet => DistributionPlot.Draw(sheet, values));
    }

    private static string Foot(AnswerFrame report) =>
        "For audit and improvement only, never about a person. Found by looking: a hypothesis.\n"
            + $"As known on {Wording.Date(report.AsOf)}. "
            + (report.Invented ? "Invented data." : $"Audience: {Wording.Audience(Audience.Department)}.");
}
