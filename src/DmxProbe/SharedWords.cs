// How figures and times are written is the same in text, report and pictures, so it lives with Reporting.
global using Figures = DmxProbe.Reporting.Text.Figures;
global using TimingWords = DmxProbe.Reporting.Text.TimingWords;
global using WallClock = DmxProbe.Reporting.Text.WallClock;
