using AngleSharp;
using AngleSharp.Html.Parser;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting.Page;

/// <summary>Text that comes from outside, wherever a page prints it, read by a parser that follows the WHATWG HTML standard.</summary>
public sealed class HostileTextTests
{
    private static readonly Figures Model = Samples.Model();

    [Theory]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("</title></style></svg></table><img src=x onerror=alert(1)>")]
    [InlineData("\" onmouseover=\"alert(1)")]
    [InlineData("' style='x")]
    [InlineData("&lt;script&gt;<!--")]
    [InlineData("\u202efdp.exe\u2066\u200f\0\u0007")]
    [InlineData("]]><a href='javascript:alert(1)'>x</a>")]
    public void Hostile_values_are_shown_and_do_nothing(string hostile)
    {
        var model = Hostile(hostile);
        var charts = Charts.Draw(model, Slides.None);
        var report = new HtmlParser().ParseDocument(Report.Html(model, charts));
        Assert.Contains(report.QuerySelectorAll("article.measure h3"), heading => heading.TextContent == Encode.Visible(hostile));
        var html = Appendix.Html(model, charts);
        var page = new HtmlParser().ParseDocument(html);
        Assert.Empty(report.QuerySelectorAll("script, img, iframe, [onerror], [onmouseover], [style]:not(svg), a[href^='javascript']"));
        Assert.Empty(page.QuerySelectorAll("script, img, iframe, [onerror], [onmouseover], [style]:not(svg), a[href^='javascript']"));
        Assert.Equal(10, page.QuerySelectorAll("main > section > h2").Length);
        Assert.Contains(page.QuerySelectorAll("article.measure h4"), heading => heading.TextContent == Encode.Visible(hostile));
        Assert.DoesNotContain(html + report.ToHtml(), c => c is '\u202e' or '\u2066' or '\u200f' or '\0' or '\u0007');
    }

    private static Figures Hostile(string text)
    {
        var measure = Model.Measures[0];
        var definition = new Measure(text, text) { Eligible = text, Met = text, Why = text, Source = text, Published = text };
        return Model with
        {
            PipelineName = text,
            Version = text,
            DefinitionsHash = text,
            Inputs = [new(text, text, 1)],
            Assumptions = [new(text, text)],
            Reconciliations = [new(text, 1, 1, 0, 0, 0)],
            Measures =
            [
                measure with
                {
                    Measure = definition,
                    RestsOn = [new(text, text)],
                    Strata = [StratumFigures.Of(text, [(text, new Count(5, 9, 0)), ("b", new Count(5, 9, 0))], Samples.Estimate)],
                },
                measure with { Measure = definition with { Id = text + "2" }, NotCollected = new([text]) },
            ],
            Findings = [new(text, Severity.Warn, 1, [text], text)],
            Completeness = [new(text, text, 1, 2)],
            RulesNotRun = [new(text, [text])],
            Ladder = Model.Ladder! with { Steps = [new("A", text, 1), new("A", "B", 1)] },
        };
    }
}
