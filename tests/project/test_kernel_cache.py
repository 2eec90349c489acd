from pathlib import Path

from advisor.project import kernel_cache


def test_any_change_of_the_engine_changes_the_folder(monkeypatch, tmp_path):
    engine = tmp_path / "engine"
    (engine / "deep").mkdir(parents=True)
    (engine / "deep" / "constants.py").write_text("G = 9.8\n")
    monkeypatch.setattr(kernel_cache, "ENGINE", engine)
    before = kernel_cache.kernel_folder(Path("data"))
    (engine / "deep" / "constants.py").write_text("G = 9.9\n")
    assert kernel_cache.kernel_folder(Path("data")) != before
    (engine / "deep" / "constants.py").write_text("G = 9.8\n")
    assert kernel_cache.kernel_folder(Path("data")) == before
