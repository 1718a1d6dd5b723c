namespace Outcomes.Tests.Browser;

/// <summary>The meeting's page under a person's hand.</summary>
internal static class MeetingKeys
{
    /// <summary>Goes to a slide by its address, as a link does, and waits until it is shown.</summary>
    public static async Task Show(this OpenPage meeting, string slide) => await meeting.Page.EvaluateAsync(
        "slide => location.hash === '#' + slide ? null : new Promise(done => { addEventListener('hashchange', () => setTimeout(done), "
            + "{ once: true }); location.hash = slide; })", slide);
}
