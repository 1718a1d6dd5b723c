using System.Diagnostics;
using Outcomes.Records;

namespace Outcomes.Cli.Output;

/// <summary>
/// A browser of the Chromium family that is on the machine already: it prints the report to PDF, tagged and with bookmarks, from the page's
/// own print style. Nothing is installed or fetched for it, and the page that it opens is a file that asks for nothing.
/// </summary>
public static class Browser
{
    private static readonly string[] OnPath =
        [
            "chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "microsoft-edge", "microsoft-edge-stable",
            "msedge", "brave-browser"
        ];

    private static readonly string[] Elsewhere =
    [
        "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome", "/Applications/Chromium.app/Contents/MacOS/Chromium",
        "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
        .. from folder in new[]
        {
            Environment.SpecialFolder.ProgramFiles, Environment.SpecialFolder.ProgramFilesX86,
            Environment.SpecialFolder.LocalApplicationData
        }
           from program in new[]
           {
               "Google/Chrome/Application/chrome.exe", "Microsoft/Edge/Application/msedge.exe", "Chromium/Application/chrome.exe"
           }
           where Environment.GetFolderPath(folder).Length > 0
           select Path.Combine(Environment.GetFolderPath(folder), program),
    ];

    /// <summary>Printing a report takes some seconds; beyond this the browser hangs.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(3);

    /// <summary>The program's path.</summary>
    /// <exception cref="Failure">There is none (exit 5).</exception>
    public static string Find() => Candidates().FirstOrDefault(File.Exists)
        ?? throw new Failure(ExitCode.Output, "--pdf needs a browser of the Chromium family on this machine, and none was found; "
            + "leave --pdf out and print report.html from any browser");

    /// <summary>Prints a page of ours.</summary>
    /// <param name="browser">As <see cref="Find"/> gives it.</param>
    /// <param name="page">The HTML file.</param>
    /// <param name="pdf">The file to write.</param>
    /// <exception cref="Failure">The browser failed (exit 5).</exception>
    public static void Print(string browser, string page, string pdf)
    {
        // A profile of its own, so that a window that is open elsewhere is not asked and nothing is left behind.
        var profile = Directory.CreateTempSubdirectory("outcomes-print-");
        try
        {
            var start =
                new ProcessStartInfo(browser) { RedirectStandardError = true, RedirectStandardOutput = true, UseShellExecute = false };
            foreach (var argument in Arguments(profile.FullName, page, pdf))
                start.ArgumentList.Add(argument);
            using var process = Process.Start(start)!;
            // What it says is read, or it would wait for a reader; none of it is of use to a person.
            var said = Task.WhenAll(process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
            if (!process.WaitForExit(Patience))
                process.Kill(entireProcessTree: true);
            process.WaitForExit();
            said.Wait();
            if (process.ExitCode != 0 || !File.Exists(pdf))
                throw Refused(browser);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or System.ComponentModel.Win32Exception)
        {
            throw Refused(browser);
        }
        finally
        {
            profile.Delete(recursive: true);
        }
    }

    private static Failure Refused(string browser) =>
        new(ExitCode.Output, $"`{Path.GetFileName(browser)}` could not print the report, so nothing was written; "
            + $"leave --pdf out and print report.html from any browser");

    private static IEnumerable<string> Candidates()
    {
        foreach (var folder in (Environment.GetEnvironmentVariable("PATH") ?? "")
            .Split(Path.PathSeparator, StringSplitOptions.RemoveEmptyEntries))
            foreach (var name in OnPath)
                yield return Path.Combine(folder, OperatingSystem.IsWindows() ? name + ".exe" : name);
        foreach (var path in Elsewhere)
            yield return path;
    }

    private static IEnumerable<string> Arguments(string profile, string page, string pdf)
    {
        yield return "--headless";
        yield return "--disable-gpu";
        yield return "--no-first-run";
        yield return "--no-default-browser-check";
        yield return "--disable-background-networking";
        yield return "--disable-component-update";
        yield return "--disable-sync";
        yield return "--disable-extensions";
        // The superuser of a container has no sandbox to offer; anyone else keeps it.
        if (OperatingSystem.IsLinux() && Environment.UserName == "root")
            yield return "--no-sandbox";
        yield return $"--user-data-dir={profile}";
        yield return "--no-pdf-header-footer";
        yield return "--export-tagged-pdf";
        yield return "--generate-pdf-document-outline";
        yield return $"--print-to-pdf={pdf}";
        yield return new Uri(page).AbsoluteUri;
    }
}
