using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Meeting;

/// <summary>The last slide: actions that no case started, what was decided, and the file to save.</summary>
internal static class CloseSlide
{
    public static void Write(Html html)
    {
        MeetingPage.Open(html, "close", "Close the meeting", "fill-in");
        html.Add($"<p>Actions that no single case started.</p>");
        NewAction.Box(html, "general");
        html.Add($"""
            <noscript><p class="note">This page needs scripts to save minutes. Without them write on paper: it prints with room for every answer.</p></noscript>
            <div class="needs-script" hidden>
            <h3>Read back</h3><p id="none-decided">No action yet.</p><ol id="decided"></ol>
            <div id="summary" class="summary" tabindex="-1" role="group" aria-labelledby="summary-title" hidden><h3 id="summary-title"></h3><ul id="summary-list"></ul><button type="button" id="save-anyway">Save it unfinished</button></div>
            <p class="actions"><button type="button" id="save">Save minutes</button> <label class="load">Continue saved minutes <input type="file" id="load" accept=".json,application/json"></label></p>
            <p id="status" role="status"></p>
            <p class="sub">Put the file into the folder that the pipeline names under <code>minutes:</code>; the next report follows its actions.</p>
            </div>

            """);
        MeetingPage.Close(html);
    }
}
