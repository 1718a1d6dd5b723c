using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Meeting;

/// <summary>The first slide: what is discussed and when, who is here, and what must not be entered.</summary>
internal static class AgendaSlide
{
    private static readonly TableColumn[] Columns = ["What", TableColumn.Num("Minutes"), TableColumn.Num("From start"), "Cases"];

    public static void Write(Html html, MeetingContent content)
    {
        var agenda = content.Agenda;
        MeetingPage.Open(html, "agenda", "Agenda");
        html.Add($"<p class=\"caution\">{MeetingWording.Caution}</p><div class=\"plan\"><div>");
        Table.Write(html, "t-agenda", MeetingWording.Length(agenda), Columns, () =>
        {
            foreach (var item in agenda.Items)
                Row(html, item);
        });
        if (MeetingWording.NotDiscussed(agenda.NotDiscussed.Length) is { Length: > 0 } rest)
        {
            html.Add($"<p>{rest} ");
            Links(html, agenda.NotDiscussed);
            html.Add($"</p>");
        }

        html.Add($"<p class=\"sub\">{MeetingWording.Rule}</p></div>");
        Present(html);
        html.Add($"</div>");
        MeetingPage.Close(html);
    }

    private static void Row(Html html, AgendaItem item)
    {
        html.Add($"""<tr><th scope="row">{MeetingWording.Name(item)}</th><td class="n">{Number(item.Minutes)}</td>""");
        html.Add($"""<td class="n">{MeetingWording.Times(item)}</td><td>""");
        Links(html, item.Cases);
        html.Add($"</td></tr>\n");
    }

    private static void Links(Html html, IEnumerable<string> cases)
    {
        foreach (var id in cases)
            html.Add($"""<a class="id" href="#case-{id}">{id}</a> """);
    }

    private static void Present(Html html)
    {
        html.Add($"""
            <div class="present"><p class="field"><label for="held">Date of the meeting</label><input type="date" id="held" data-meeting="held"></p>
            <fieldset><legend>Who is here, by role (numbers, never names)</legend><div class="roles">

            """);
        foreach (var role in MeetingChoices.Roles)
            html.Add($"""
                <p class="field"><label for="role-{role.Code}">{role.Title}</label><input type="number" min="0" max="99" step="1" id="role-{role.Code}" data-role="{role.Code}"></p>

                """);
        html.Add($"</div></fieldset><p class=\"note\">{MeetingWording.Entering}</p></div>\n");
    }

    private static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);
}
