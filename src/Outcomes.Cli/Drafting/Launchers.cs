
namespace Outcomes.Cli.Drafting;

/// <summary>Files that run a pipeline at a double click and open its report, for a lead without a terminal.</summary>
public static class Launchers
{
    private const string Shell = """
        #!/bin/sh
        # Runs the pipeline in this folder and opens its report.
        cd "$(dirname "$0")" || exit 1
        if ! command -v outcomes >/dev/null 2>&1; then
          echo "The program 'outcomes' is not on this computer's PATH. Ask whoever installed it to add its folder, then try again." >&2
          exit 127
        fi
        outcomes run pipeline.yaml --out report "$@"
        code=$?
        if [ "$code" -ne 0 ]; then
          echo "No new report was written (code $code): the message above says what to correct." >&2
          exit "$code"
        fi
        if command -v xdg-open >/dev/null 2>&1; then xdg-open report/report.html
        elif command -v open >/dev/null 2>&1; then open report/report.html
        else echo "Open report/report.html in a browser."
        fi

        """;

    private const string Cmd = """
        @echo off
        rem Runs the pipeline in this folder and opens its report.
        cd /d "%~dp0"
        where outcomes >nul 2>nul
        if errorlevel 1 (
          echo The program 'outcomes' is not on this computer's PATH. Ask whoever installed it to add its folder, then try again.
          pause
          exit /b 9009
        )
        call outcomes run pipeline.yaml --out report %*
        if errorlevel 1 (
          echo No new report was written: the message above says what to correct.
          pause
          exit /b 1
        )
        start "" "report\report.html"

        """;

    public static void Write(string folder)
    {
        var shell = Path.Combine(folder, "report.sh");
        File.WriteAllText(shell, Shell.ReplaceLineEndings("\n"));
        File.WriteAllText(Path.Combine(folder, "report.cmd"), Cmd.ReplaceLineEndings("\r\n"));
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(shell,
                File.GetUnixFileMode(shell) | UnixFileMode.UserExecute | UnixFileMode.GroupExecute | UnixFileMode.OtherExecute);
    }
}
