using System.Text;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Records;
using Outcomes.Reporting.Meeting;

namespace Outcomes.Tests.Reporting.Meeting;

public sealed class MeetingPageTests
{
    [Fact]
    public void Every_case_has_a_slide_and_a_side_to_fill_in_with_the_eight_heads()
    {
        var page = Page();
        Assert.Equal(["agenda", "figures", "open-actions", "case-ABC234", "fill-ABC234", "close"],
            page.QuerySelectorAll(".slide").Select(slide => slide.Id));
        Assert.Equal(["patient", "task", "person", "team", "equipment", "place", "organisation", "outside"],
            page.QuerySelectorAll("#fill-ABC234 [data-factor][data-side=helped]").Select(one => one.GetAttribute("data-factor")));
        Assert.Equal(["happened", "why", "learning", "harm", "candour", "candour_role", "disposition"],
            page.QuerySelectorAll("#fill-ABC234 [data-field]").Select(one => one.GetAttribute("data-field")));
    }

    [Fact]
    public void The_page_says_that_it_is_confidential_at_its_head_its_foot_and_on_paper()
    {
        var page = Page();
        Assert.Equal(2, page.QuerySelectorAll(".confidential").Length);
        Assert.StartsWith("Confidential", page.Title, StringComparison.Ordinal);
        Assert.Contains("Confidential: department only", page.QuerySelector("style")!.TextContent, StringComparison.Ordinal);
        Assert.NotNull(page.QuerySelector("meta[name=robots][content=noindex]"));
    }

    [Fact]
    public void Its_policy_allows_its_own_script_and_style_and_no_request()
    {
        var policy = Page().QuerySelector("meta[http-equiv=Content-Security-Policy]")!.GetAttribute("content")!;
        Assert.Matches("^default-src 'none'; script-src 'sha256-[^']+'; style-src 'sha256-[^']+'; base-uri 'none'; form-action 'none'$",
            policy);
    }

    [Theory]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("\" onmouseover=\"alert(1)")]
    [InlineData("</title></textarea></template><img src=x onerror=alert(1)>")]
    [InlineData("\u202efdp.exe")]
    public void Hostile_text_of_an_action_is_shown_and_does_nothing(string hostile)
    {
        var content = Content();
        var action = new DepartmentAction(hostile, hostile, hostile, new(2026, 5, 1), null, new(2026, 1, 1), null, null)
        {
            Cases = [hostile]
        };
        var (html, page) = Read(content with
        {
            Figures = content.Figures with { PipelineName = hostile, Actions = ActionState.Of([action], new(2026, 3, 31), new(2026, 3)) },
            Pack = content.Pack with { PipelineName = hostile },
        });
        Assert.Single(page.QuerySelectorAll("script"));
        Assert.Empty(page.QuerySelectorAll("img, iframe, [onerror], [onmouseover]"));
        Assert.Contains(page.QuerySelectorAll("#t-open ~ tbody td"),
            cell => cell.TextContent == Outcomes.Reporting.Page.Encode.Visible(hostile));
        Assert.DoesNotContain('\u202e', html);
    }

    [Fact]
    public void A_pack_for_another_audience_is_refused()
    {
        var content = Content();
        Assert.Throws<Failure>(() => MeetingPage.Utf8(content with { Pack = content.Pack with { Audience = Audience.Network } }));
    }

    [Theory]
    [InlineData(1, 1, "wrote 1 learning point.")]
    [InlineData(5, 5, "wrote 5 learning points.")]
    [InlineData(7, 5, "wrote 7 learning points; the first 5 are shown. Its minutes have the rest.")]
    public void The_next_meeting_and_the_appendix_show_at_most_five_learning_points_as_text(int written, int shown, string said)
    {
        string[] points = [.. Enumerable.Range(0, written).Select(i => $"<b>Point {i}</b>")];
        var figures = Samples.Model() with { Learning = new(new Month(2026, 2), new(2026, 3, 10), [.. points]) };
        var meeting = Read(Content() with { Figures = figures }).Page;
        var appendix = new HtmlParser().ParseDocument(Encoding.UTF8.GetString(Outcomes.Reporting.Page.Appendix.Utf8(figures, [])));
        foreach (var part in new[]
        {
            meeting.QuerySelector("#open-actions")!, appendix.QuerySelector("section[aria-labelledby=learning]")!
        })
        {
            Assert.Equal(points[..shown], part.QuerySelectorAll("ul.prose li").Select(point => point.TextContent));
            Assert.Contains($"The meeting of 10 March 2026, about February 2026, {said}", part.TextContent.Replace('\u00a0', ' '),
                StringComparison.Ordinal);
        }

        Assert.NotNull(appendix.QuerySelector("nav a[href='#learning']"));
        Assert.Null(Page().QuerySelector("#open-actions ul.prose"));
    }

    private static IHtmlDocument Page() => Read(Content()).Page;

    private static (string Html, IHtmlDocument Page) Read(MeetingContent content)
    {
        var html = Encoding.UTF8.GetString(MeetingPage.Utf8(content));
        return (html, new HtmlParser().ParseDocument(html));
    }

    private static MeetingContent Content()
    {
        var pack = new CasePack
        {
            PipelineName = "harbour-demo",
            Month = new Month(2026, 3),
            Records = 12,
            Cases =
            [
                new("ABC234", CaseKind.One, [new("death_24h", Tier.One, "x") { Title = "Death", Shows = ["death_24h"] }])
                {
                    HasPage = true
                },
                new("ABC235", CaseKind.Three, [new("fell", Tier.Three, "x") { Title = "Fell" }]),
            ],
        };
        return new(pack, Samples.Model(), MeetingAgenda.Plan(pack, openActions: 0));
    }
}
