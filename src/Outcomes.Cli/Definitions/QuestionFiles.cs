namespace Outcomes.Cli.Definitions;

/// <summary>Questions that were saved beside a pipeline.</summary>
internal static class QuestionFiles
{
    /// <summary>Where they are saved, from the pipeline's folder.</summary>
    public const string Folder = "questions";
}
