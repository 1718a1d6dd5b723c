using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Meeting;

/// <summary>The side of a case that the meeting fills in, on screen or on paper.</summary>
internal static class FillSlide
{
    public static void Write(Html html, MeetingContent content, ReviewCase each)
    {
        MeetingPage.Open(html, $"fill-{each.Id}", $"{MeetingPage.Name(each)}, what the meeting found", "fill-in");
        html.Add($"<p class=\"sub\">{CaseStory.Tell(each, content.Pack)}</p><div class=\"answers\" data-case=\"{each.Id}\">");
        html.Add($"<div class=\"two\"><div>");
        Text(html, each.Id, "happened", "What happened");
        Text(html, each.Id, "why", "Why");
        Text(html, each.Id, "learning", "What we learn");
        Choices(html, each.Id, "harm", "Harm", MeetingChoices.Harm);
        Choices(html, each.Id, "candour", "Patient or family told", MeetingChoices.Candour);
        Line(html, each.Id, "candour_role", "Told by (role)");
        Choices(html, each.Id, "disposition", "What becomes of it", MeetingChoices.Dispositions);
        html.Add($"</div><div>");
        Factors(html, each.Id);
        html.Add($"</div></div></div>");
        NewAction.Box(html, each.Id);
        MeetingPage.Close(html);
    }

    private static void Text(Html html, string id, string field, string label) => html.Add($"""
        <p class="field"><label for="{id}-{field}">{label}</label><textarea id="{id}-{field}" rows="2" data-field="{field}"></textarea></p>

        """);

    private static void Line(Html html, string id, string field, string label) => html.Add($"""
        <p class="field row"><label for="{id}-{field}">{label}</label><input type="text" id="{id}-{field}" data-field="{field}" autocomplete="off"></p>

        """);

    private static void Choices(Html html, string id, string field, string label, ImmutableArray<Choice> choices)
    {
        html.Add($"""
            <p class="field row"><label for="{id}-{field}">{label}</label><select id="{id}-{field}" data-field="{field}"><option value=""></option>

            """);
        foreach (var choice in choices)
            html.Add($"""<option value="{choice.Code}">{choice.Title}</option>""");
        html.Add($"</select><span class=\"ticks\" aria-hidden=\"true\">");
        foreach (var choice in choices)
            html.Add($"<span><i class=\"tick\"></i>{choice.Title}</span> ");
        html.Add($"</span></p>");
    }

    private static void Factors(Html html, string id)
    {
        html.Add($"""
            <table class="fill"><caption>What contributed</caption><thead><tr><th scope="col">Head</th><th scope="col" id="{id}-helped">Helped</th><th scope="col" id="{id}-hindered">Hindered</th></tr></thead><tbody>

            """);
        foreach (var head in MeetingChoices.Heads)
        {
            html.Add($"""<tr><th scope="row" id="{id}-{head.Code}">{head.Title}</th>""");
            foreach (var side in (string[])["helped", "hindered"])
                html.Add($"""
                    <td><input type="text" aria-labelledby="{id}-{head.Code} {id}-{side}" data-factor="{head.Code}" data-side="{side}" autocomplete="off"></td>

                    """);
            html.Add($"</tr>");
        }

        html.Add($"</tbody></table>\n");
    }
}
