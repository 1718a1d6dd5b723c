using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Review;
using Outcomes.Reporting.Cases;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Meeting;

/// <summary>One case on one slide: its line, what fired and what the agreed standards ask, its timeline and what went well.</summary>
internal static class CaseSlide
{
    public static void Write(Html html, MeetingContent content, ReviewCase each)
    {
        var (pack, view) = (content.Pack, CaseView.Write(each, content.Pack));
        MeetingPage.Open(html, $"case-{each.Id}", MeetingPage.Name(each), "story");
        html.Add($"<p class=\"line\">{CaseStory.Tell(each, pack)}</p>");
        if (each.Late is { } late)
            html.Add($"<p class=\"note\">{CaseWording.Late(late)}</p>");
        html.Add($"<div class=\"sides\"><div><h3>What fired</h3>");
        Fired(html, view);
        html.Add($"<h3>What the agreed standard asks</h3>");
        List(html, [.. MeetingWording.Questions(each.Kind, view.Standards)], "No agreed standard asks anything.");
        html.Add($"</div><div>");
        CaseTimeline.Write(html, view);
        html.Add($"<h3>What went well</h3>");
        List(html, [.. view.Standards.WentWell.Select(CaseWording.Title), .. CaseWording.MoreMet(view.Standards)],
            "Nothing that the measures could judge.");
        html.Add($"</div></div>");
        MeetingPage.Close(html);
    }

    private static void Fired(Html html, CaseView view)
    {
        html.Add($"<ul class=\"fired\">");
        if (view.Kind == CaseKind.Drawn)
            html.Add($"<li><strong>Drawn at random</strong> among the records without a flag.</li>");
        foreach (var flag in view.Flags)
            html.Add($"<li class=\"{(flag.Tier == view.Flags[0].Tier ? "" : "lower below")}\"><strong>{flag.Title}</strong> "
                + $"<span class=\"sub\">"
                + $"{string.Join("; ", flag.Values.Select(fact => $"{fact.Title}: {fact.Value}"))}</span></li>");
        html.Add($"</ul>");
    }

    private static void List(Html html, ImmutableArray<string> lines, string none)
    {
        if (lines.IsEmpty)
        {
            html.Add($"<p>{none}</p>");
            return;
        }

        html.Add($"<ul>");
        foreach (var line in lines)
            html.Add($"<li>{line}</li>");
        html.Add($"</ul>");
    }
}
