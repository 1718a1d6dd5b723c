using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.Browser;

/// <summary>The form under a person's keys.</summary>
internal static class FormKeys
{
    /// <summary>
    /// The form that the command writes, open, in a folder of the test's own; its mapping lies beside it as <c>form.yaml</c>.
    /// </summary>
    public static Task<OpenPage> OpenForm(
        this Chromium chromium, FormPages forms, Workspace workspace, int width = 1280, bool scripts = true)
    {
        foreach (var file in new[] { "form.html", "form.yaml" })
            File.Copy(forms[file], workspace[file]);
        return chromium.Open(workspace["form.html"], width, scripts: scripts);
    }

    /// <summary>
    /// One procedure with keys only: Tab from control to control, letters and arrows in lists, Space for boxes and buttons.
    /// </summary>
    public static async Task Fill(this OpenPage form, string key, string lowest, int attempts = 1)
    {
        var keys = form.Page.Keyboard;
        await form.Walk("record_id");
        await keys.PressAsync("Control+a");
        await keys.TypeAsync(key);
        await form.Walk("event_date");
        // Day and month alike: their order is the browser's own language's.
        await keys.TypeAsync("03032026");
        await form.Walk("urgency");
        await keys.TypeAsync("emer");
        await form.Walk("age_years");
        await keys.TypeAsync("61");
        await form.Walk("cardiac_arrest_before");
        await keys.TypeAsync("no");
        await form.Walk("spo2_pre");
        await keys.TypeAsync("98");
        for (var n = 1; n <= attempts; n++)
        {
            await form.Walk("add-attempt");
            await keys.PressAsync("Enter");
            Assert.Equal($"attempt{n}_technique", await form.Focused());
            await keys.TypeAsync("video");
            await form.Walk($"attempt{n}_outcome");
            await keys.TypeAsync("success");
        }

        await form.Walk("attempts_total");
        await keys.TypeAsync($"{attempts}");
        await form.Walk("plan_a");
        await keys.TypeAsync("succ");
        await form.Walk("fona_performed");
        await keys.TypeAsync("no");
        await form.Walk("spo2_min");
        await keys.TypeAsync(lowest);
        await form.Walk("sbp_min-why");
        await keys.TypeAsync("unk");
        await form.Walk("complication:aspiration");
        await keys.PressAsync("Space");
        await form.Walk("complication:dental");
        await keys.PressAsync("Space");
        await form.Walk("keep");
        await keys.PressAsync("Enter");
        // The blank core fields are pointed out; the person keeps the record as it is.
        Assert.Equal("summary", await form.Focused());
        await form.Walk("keep-anyway");
        await keys.PressAsync("Enter");
        Assert.Equal("record_id", await form.Focused());
    }

    /// <summary>Saves by keyboard under a name of the workspace: as JSON where the name says so, else as CSV.</summary>
    public static async Task Save(this OpenPage form, Workspace workspace, string name)
    {
        await form.Walk(name.EndsWith(".json", StringComparison.Ordinal) ? "save-json" : "save-csv");
        var download = await form.Page.RunAndWaitForDownloadAsync(() => form.Page.Keyboard.PressAsync("Enter"));
        Assert.EndsWith(Path.GetExtension(name), download.SuggestedFilename, StringComparison.Ordinal);
        await download.SaveAsAsync(workspace[name]);
        // The table reader of the tests takes line feeds only.
        workspace.Write("lf-" + name, workspace.Read(name).ReplaceLineEndings("\n"));
    }

    /// <summary>Tab until the control has the focus; a control that the keyboard cannot reach fails the test.</summary>
    public static async Task Walk(this OpenPage form, string id)
    {
        for (var i = 0; i < 400; i++)
        {
            if (await form.Focused() == id) return;
            await form.Page.Keyboard.PressAsync("Tab");
        }

        Assert.Fail($"Tab never reaches {id}.");
    }

    /// <summary>Tab until a button whose name begins so has the focus.</summary>
    public static async Task WalkTo(this OpenPage form, string name)
    {
        for (var i = 0; i < 400; i++)
        {
            if (await form.Page.EvaluateAsync<bool>("name => document.activeElement.textContent.startsWith(name)", name)) return;
            await form.Page.Keyboard.PressAsync("Tab");
        }

        Assert.Fail($"Tab never reaches {name}.");
    }

    public static Task<string> Focused(this OpenPage form) =>
        form.Page.EvaluateAsync<string>("() => { const one = document.activeElement; return one.type === 'checkbox' && one.name ? "
            + "`${one.name}:${one.value}` : one.id; }");
}
